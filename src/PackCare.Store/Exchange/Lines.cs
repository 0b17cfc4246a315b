using PackCare.Core.Packs;
using PackCare.Core.Reading;
using PackCare.Core.Sessions;

namespace PackCare.Store.Exchange;

/// <summary>A line of packs.jsonl.</summary>
internal sealed record PackLine(
    long Id,
    string Label,
    int Cells,
    int Parallel,
    Chemistry Chemistry,
    double? RatedCapacityAh,
    double? RatedDischargeC,
    DateOnly? Bought,
    decimal? Price,
    string? Currency,
    string? Vehicle,
    string? Connector,
    DateTimeOffset Added);

/// <summary>A line of retirements.jsonl.</summary>
internal sealed record RetirementLine(long Id, long PackId, DateTimeOffset At, string Reason);

/// <summary>A line of spot-checks.jsonl.</summary>
internal sealed record SpotCheckLine(long Id, long PackId, DateTimeOffset At, IReadOnlyList<double> CellVolts, double? Celsius, IReadOnlyList<double> CellMilliohms);

/// <summary>A line of diary.jsonl.</summary>
internal sealed record DiaryLine(long Id, long PackId, DateTimeOffset At, EntryKind Kind, bool Swollen, bool Damaged, double? MaxCelsius, string? Text);

/// <summary>A line of files.jsonl.</summary>
internal sealed record FileLine(
    long Id,
    string Sha256,
    string Name,
    long Bytes,
    DateTimeOffset Imported,
    LogReading Reading,
    Ledger Ledger,
    IReadOnlyList<InputProblem> Notices);

/// <summary>A line of sessions.jsonl.</summary>
internal sealed record SessionLine(
    long Id,
    long FileId,
    int Ordinal,
    long? PackId,
    string? PackHint,
    DateTimeOffset Started,
    TimeQuality TimeQuality,
    int FirstLine,
    int LastLine,
    SessionSummary? Summary);

/// <summary>The one line of export.json.</summary>
internal sealed record ExportLine(string Format, int Version);
