namespace PackCare.Report;

/// <summary>
/// The order in which dates are written. With the year first they are all figures (ISO 8601); in the other orders the
/// month is a word, so that no date can be read as another day.
/// </summary>
public enum DateOrder
{
    /// <summary>2026-03-04.</summary>
    YearFirst,

    /// <summary>4 Mar 2026.</summary>
    DayFirst,

    /// <summary>Mar 4, 2026.</summary>
    MonthFirst,
}
