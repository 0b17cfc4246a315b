using PackCare.Cli.Output;
using PackCare.Core.Packs;
using PackCare.Core.Reading;
using PackCare.Core.Sessions;

namespace PackCare.Cli.Importing;

/// <summary>What became of one file, for programs.</summary>
internal static class ImportJson
{
    // 1.96 standard errors; the count is beside it.
    private const double NormalQuantile975 = 1.959963984540054;

    /// <summary>The outcome of one file.</summary>
    public static object Of(FileOutcome outcome, bool dryRun) => new
    {
        outcome.File,
        outcome.Sha256,
        outcome.Status,
        DryRun = dryRun,
        Reading = outcome.Reading is { } reading ? OfReading(reading) : null,
        Ledger = OfLedger(outcome.Ledger),
        Sessions = outcome.Sessions.Select(OfSession),
        Errors = outcome.Problems.Select(problem => new
        {
            problem.Line,
            problem.Column,
            problem.Code,
            Message = $"{problem.Found}; {problem.Advice}",
            problem.Level,
        }),
    };

    private static object OfReading(LogReading reading) => new
    {
        reading.Delimiter,
        Decimal = reading.DecimalMark,
        reading.Encoding,
        reading.Layout,
        reading.TimeBase,
        Columns = reading.Columns.Select(column => new { column.Index, column.Header, column.Meaning, column.Unit, column.Cell, column.Why }),
        reading.Reasons,
    };

    private static object OfLedger(Ledger ledger) => new
    {
        ledger.Lines,
        ledger.Header,
        ledger.Units,
        ledger.Samples,
        ledger.Comments,
        ledger.Footer,
        ledger.Blank,
        ledger.Dropped,
    };

    private static object OfSession(SessionOutcome outcome)
    {
        SessionSummary summary = outcome.Summary;
        return new
        {
            outcome.Id,
            Pack = outcome.Pack?.Label,
            Suggestions = outcome.Match is PackMatch.Unassigned waiting ? waiting.Suggestions.Select(pack => pack.Label) : null,
            summary.Kind,
            StartedUtc = JsonText.Utc(outcome.Log.Started),
            outcome.Log.TimeQuality,
            summary.DurationSeconds,
            Samples = summary.SampleCount,
            ChargeAh = summary.NetChargeAh,
            EnergyWh = summary.NetEnergyWh,
            StartMillivolts = summary.Cells.Select(cell => cell.StartVolts * 1000),
            EndMillivolts = summary.Cells.Select(cell => cell.EndVolts * 1000),
            summary.RestSpreadMillivolts,
            summary.EndSpreadMillivolts,
            ResistanceMilliohm = summary.Cells.Where(cell => cell.Resistance is not null).Select(cell => OfResistance(cell.Cell, cell.Resistance!)),
        };
    }

    private static object OfResistance(int cell, ResistanceReading reading) => new
    {
        Cell = cell,
        Value = reading.Ohms * 1000,
        Low = (reading.Ohms - (NormalQuantile975 * reading.StandardErrorOhms)) * 1000,
        High = (reading.Ohms + (NormalQuantile975 * reading.StandardErrorOhms)) * 1000,
        reading.Count,
        reading.LagSeconds,
    };
}
