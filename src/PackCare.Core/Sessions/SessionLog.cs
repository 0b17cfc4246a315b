using PackCare.Core.Samples;

namespace PackCare.Core.Sessions;

/// <summary>One session as it was read from a log, before anything is concluded from it.</summary>
/// <param name="Started">When its first sample was taken, with the offset that the log or the user gave.</param>
/// <param name="TimeQuality">How well that is known.</param>
/// <param name="PackHint">What the log's column, preamble or file name calls the pack, or null.</param>
/// <param name="FirstLine">Line number of its first sample in the file, from 1.</param>
/// <param name="LastLine">Line number of its last sample in the file.</param>
/// <param name="Samples">The samples.</param>
public sealed record SessionLog(
    DateTimeOffset Started,
    TimeQuality TimeQuality,
    string? PackHint,
    int FirstLine,
    int LastLine,
    SampleSeries Samples);
