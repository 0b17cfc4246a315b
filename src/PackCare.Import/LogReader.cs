using PackCare.Core.Reading;

namespace PackCare.Import;

/// <summary>Reads generic charge-session logs. The outcome is right or refused, never a guess.</summary>
public static class LogReader
{
    /// <summary>Reads one log.</summary>
    /// <param name="bytes">The log, from its first byte; must be seekable.</param>
    /// <param name="source">Where it comes from.</param>
    /// <param name="options">What the user fixed.</param>
    public static ReadResult Read(Stream bytes, LogSource source, ReadOptions options) => throw new NotImplementedException();
}
