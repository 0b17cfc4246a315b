namespace PackCare.Import.Meanings;

/// <summary>Rows whose voltages look damaged.</summary>
/// <param name="Packs">Where the pack voltage is not the sum of the cells as in the rows beside it, and how far off.</param>
/// <param name="Spikes">For each cell, where it jumps away and back while the others do not.</param>
internal sealed record OddVoltages(List<(int Row, string Found)> Packs, IReadOnlyList<List<int>> Spikes)
{
    /// <summary>Where a cell goes on elsewhere while the others stay, and which, from 0.</summary>
    internal List<(int Row, int Cell)> Jumps { get; init; } = [];

    /// <summary>The pack voltage less the sum of the cells in the first rows, in volts, where it does not stay near to the same; else null.</summary>
    internal double[]? Gaps { get; set; }

    /// <summary>The first row in which two cells have taken each other's place, and which two; null where none have.</summary>
    internal (int Row, int One, int Other)? Exchanged { get; set; }

    /// <summary>The same of two that lie close together, as a balancer may make them do as well.</summary>
    internal (int Row, int One, int Other)? Crossed { get; set; }
}
