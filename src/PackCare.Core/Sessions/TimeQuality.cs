namespace PackCare.Core.Sessions;

/// <summary>How well a session's start is known. Stored by name.</summary>
public enum TimeQuality
{
    /// <summary>The log states date, time and offset, or the user did.</summary>
    Exact,

    /// <summary>Part of it was concluded: a zone that was assumed, a date from the file's name or preamble.</summary>
    Inferred,

    /// <summary>Only the file's own date was there to go by.</summary>
    FileDate,
}
