namespace PackCare.Report.Charts;

/// <summary>A question, its answer, and the picture that shows why.</summary>
/// <param name="Name">Short name, for file names.</param>
/// <param name="Question">The title.</param>
/// <param name="Answer">The conclusion in one or more sentences, computed from the data.</param>
/// <param name="HowToRead">What lines and marks mean, or null.</param>
/// <param name="Panels">The drawings; empty where there is nothing to draw.</param>
/// <param name="Data">The numbers.</param>
internal sealed record Chart(
    string Name,
    string Question,
    string Answer,
    string? HowToRead,
    IReadOnlyList<Panel> Panels,
    DataTable Data)
{
    /// <summary>What speaks for and against the answer, a sentence each.</summary>
    public IReadOnlyList<string> Evidence { get; init; } = [];
}
