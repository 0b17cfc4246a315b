namespace PackCare.Report;

/// <summary>Draws the report: an overview and a page a pack, each a self-contained HTML file.</summary>
public static class ReportWriter
{
    /// <summary>Writes the report into a folder.</summary>
    /// <param name="input">What to draw.</param>
    /// <param name="folder">An existing folder; files of the same names are replaced.</param>
    /// <returns>Paths of the written files, the overview first.</returns>
    public static IReadOnlyList<string> Write(ReportInput input, string folder) => throw new NotImplementedException();
}
