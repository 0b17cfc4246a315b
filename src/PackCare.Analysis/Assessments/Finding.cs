namespace PackCare.Analysis.Assessments;

/// <summary>One piece of evidence that bears on the standing.</summary>
/// <param name="Code">What it is about.</param>
/// <param name="Level">How grave it is.</param>
/// <param name="Cell">The cell number from 1 that it concerns, or null for the pack.</param>
/// <param name="Value">The figure, in <paramref name="Unit"/>, or null where there is none.</param>
/// <param name="Unit">Unit of value, interval, limit and margin ("mV", "%", "d", "mOhm", "ratio", "V", "degC"), or null.</param>
/// <param name="Low">Lower end of the 95 % interval, or null where the figure was read and not estimated.</param>
/// <param name="High">Upper end of the 95 % interval, or null likewise.</param>
/// <param name="Limit">The limit that it was held against, or null.</param>
/// <param name="Margin">Distance from the value to the limit; negative once past it.</param>
/// <param name="Sessions">Numbers of the sessions that it rests on.</param>
/// <param name="Text">What was found, one sentence with units, interval and count.</param>
/// <param name="Action">What to do, in a sentence or two.</param>
/// <param name="Due">How soon something needs doing about it; null where nothing does.</param>
/// <param name="Since">Since when it stands, or null.</param>
/// <param name="Count">How many observations the figure rests on, where it was estimated; null where it was read.</param>
public sealed record Finding(
    FindingCode Code,
    FindingLevel Level,
    int? Cell,
    double? Value,
    string? Unit,
    double? Low,
    double? High,
    double? Limit,
    double? Margin,
    IReadOnlyList<long> Sessions,
    string Text,
    string Action,
    DueUrgency? Due = null,
    DateTimeOffset? Since = null,
    int? Count = null);
