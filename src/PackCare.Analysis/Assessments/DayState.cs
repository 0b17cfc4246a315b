namespace PackCare.Analysis.Assessments;

/// <summary>Where a pack was on one day.</summary>
public enum DayState
{
    /// <summary>Nothing tells.</summary>
    Unknown,

    /// <summary>At storage level.</summary>
    Storage,

    /// <summary>Neither full nor at storage level.</summary>
    Part,

    /// <summary>Charged, discharged or run.</summary>
    InUse,

    /// <summary>Perhaps full: last seen full, and nothing says what came of it.</summary>
    PossiblyFull,

    /// <summary>Full, as the next record shows.</summary>
    Full,
}
