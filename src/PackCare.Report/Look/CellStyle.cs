namespace PackCare.Report.Look;

/// <summary>How one cell is drawn in every chart: tone, dash and mark together are its own among 24 cells.</summary>
/// <param name="Tone">Its colour.</param>
/// <param name="Dash">Its dash pattern.</param>
/// <param name="Mark">The shape of its points.</param>
internal sealed record CellStyle(Tone Tone, IReadOnlyList<float> Dash, Mark Mark)
{
    // Five tones, four dashes and six marks have no cycle shorter than 60, so no two of 24 cells look alike.
    private static readonly float[][] Dashes = [[], [7, 3], [2, 2.5f], [9, 3, 2, 3]];

    /// <summary>The style of a cell.</summary>
    /// <param name="cell">Cell number from 1.</param>
    public static CellStyle Of(int cell)
    {
        int at = Math.Max(0, cell - 1);
        return new(Tones.Cells[at % Tones.Cells.Count], Dashes[at % Dashes.Length], (Mark)(at % 6));
    }

    /// <summary>The line of this cell; that of the cell in question is heavier.</summary>
    /// <param name="inFocus">Whether it is the cell in question.</param>
    public Stroke Line(bool inFocus) => new(Tone, inFocus ? 3 : 1.4, Dash);
}
