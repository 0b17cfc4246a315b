namespace PackCare.Analysis.Assessments;

/// <summary>One day in the life of a pack.</summary>
/// <param name="Day">The day, in UTC.</param>
/// <param name="State">The state that held for most of it; in use where a session or run falls on it.</param>
public sealed record PackDay(DateOnly Day, DayState State);
