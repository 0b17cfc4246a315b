namespace PackCare.Report.Charts;

/// <summary>The numbers behind a chart, as text.</summary>
/// <param name="Columns">Headings.</param>
/// <param name="Rows">One cell a column each.</param>
/// <param name="Note">What to know of them (that rows were left out, for instance), or null.</param>
internal sealed record DataTable(IReadOnlyList<string> Columns, IReadOnlyList<IReadOnlyList<string>> Rows, string? Note = null);
