namespace PackCare.Report.Data;

/// <summary>One table of the export.</summary>
/// <param name="Name">Its name, lower case with hyphens.</param>
/// <param name="Columns">Column names in lower case with underscores, the unit last.</param>
/// <param name="Rows">
/// Values in the order of the columns: text, numbers, truth values, days and moments; null where there is no figure.
/// </param>
internal sealed record DataSheet(string Name, IReadOnlyList<string> Columns, IEnumerable<object?[]> Rows);
