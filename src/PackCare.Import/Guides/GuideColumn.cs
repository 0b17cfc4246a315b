using PackCare.Core.Reading;

namespace PackCare.Import.Guides;

/// <summary>What a guide says of one column.</summary>
/// <param name="Index">Position from 1, or null where the header names it.</param>
/// <param name="Header">Its header as it stands in the log, or null where the position names it.</param>
/// <param name="Meaning">What it holds; <see cref="ColumnMeaning.Ignored"/> leaves it out.</param>
/// <param name="Unit">The unit in which it is written, as logs mark it ("mV", "A", "mAh", "s", "°C"), or null to leave it to proof.</param>
/// <param name="Cell">Cell or sensor number from 1, or null.</param>
public sealed record GuideColumn(int? Index, string? Header, ColumnMeaning Meaning, string? Unit, int? Cell);
