namespace PackCare.Import.Lexing;

/// <summary>A date or time as written; the order of day and month may still be open.</summary>
internal struct TimeToken
{
    /// <summary>Stands for "no offset written".</summary>
    internal const int NoOffset = int.MinValue;

    /// <summary>What was written.</summary>
    internal TimeShape Shape;

    /// <summary>Year; 0 where there is no date.</summary>
    internal int Year;

    /// <summary>First of day and month as written (month where the year comes first).</summary>
    internal int First;

    /// <summary>Second of day and month as written (day where the year comes first).</summary>
    internal int Second;

    /// <summary>Whether the writing itself settles the order of day and month.</summary>
    internal bool OrderKnown;

    /// <summary>Nanoseconds since midnight, or the length of a duration; in minutes and seconds for two parts.</summary>
    internal long Nanoseconds;

    /// <summary>Minutes east of UTC, or <see cref="NoOffset"/>.</summary>
    internal int OffsetMinutes;

    /// <summary>How many digits the fraction of the second has.</summary>
    internal int FractionDigits;
}
