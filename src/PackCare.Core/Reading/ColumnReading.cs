namespace PackCare.Core.Reading;

/// <summary>What the importer took one column for, and why.</summary>
/// <param name="Index">Position from 1.</param>
/// <param name="Header">Its header as found, or null where there is none.</param>
/// <param name="Meaning">What it holds.</param>
/// <param name="Unit">The unit in which it is written, or null where it has none.</param>
/// <param name="Cell">Cell or sensor number from 1, or null.</param>
/// <param name="Why">The evidence in plain words.</param>
public sealed record ColumnReading(int Index, string? Header, ColumnMeaning Meaning, string? Unit, int? Cell, string Why);
