namespace PackCare.Import.Lexing;

/// <summary>What a field is as a date or time.</summary>
internal enum TimeShape
{
    /// <summary>Neither.</summary>
    None,

    /// <summary>Date and time of day.</summary>
    DateAndTime,

    /// <summary>A date alone.</summary>
    Date,

    /// <summary>Hours, minutes and seconds: a time of day or a duration.</summary>
    ThreePart,

    /// <summary>Two numbers with a colon: minutes and seconds, or hours and minutes.</summary>
    TwoPart,
}
