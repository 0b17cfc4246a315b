namespace PackCare.Core.Sessions;

/// <summary>A session as the history keeps it, without its samples.</summary>
/// <param name="Id">Its number in this history.</param>
/// <param name="PackId">The pack it belongs to; null while unassigned.</param>
/// <param name="FileName">Name of the file it came from, without folders.</param>
/// <param name="Started">When its first sample was taken, with the offset of the log.</param>
/// <param name="TimeQuality">How well that is known.</param>
/// <param name="Summary">What it shows.</param>
public sealed record SessionRecord(
    long Id,
    long? PackId,
    string FileName,
    DateTimeOffset Started,
    TimeQuality TimeQuality,
    SessionSummary Summary)
{
    /// <summary>When its last sample was taken.</summary>
    public DateTimeOffset Ended => Started.AddSeconds(Summary.DurationSeconds);
}
