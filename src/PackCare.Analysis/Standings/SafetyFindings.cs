using PackCare.Analysis.Assessments;
using PackCare.Analysis.Limits;
using PackCare.Analysis.Records;
using PackCare.Analysis.Wording;
using PackCare.Core.Sessions;

namespace PackCare.Analysis.Standings;

/// <summary>Findings about voltages and temperatures out of range, and about what was seen.</summary>
internal static class SafetyFindings
{
    private const double RecentDays = 365;

    // A cell that was too low is only over it this much above the limit, in volts.
    private const double LowCellRelease = 0.03;

    /// <summary>The findings.</summary>
    public static IEnumerable<Finding> Of(Evidence evidence) =>
        Seen(evidence).Concat(LowCells(evidence)).Concat(OverVoltage(evidence)).Concat(ChargeTemperature(evidence)).Concat(UseTemperature(evidence));

    private static IEnumerable<Finding> Seen(Evidence evidence)
    {
        if (evidence.Record.Entries.LastOrDefault(entry => entry.Swollen) is { } swollen)
        {
            yield return Plain(FindingCode.Swollen, FindingLevel.Stop, [], $"It was seen to be swollen on {Say.Day(swollen.At)}.", "Do not puncture or press it. " + Actions.Stop);
        }

        if (evidence.Record.Entries.LastOrDefault(entry => entry.Damaged) is { } damaged)
        {
            yield return Plain(FindingCode.Damaged, FindingLevel.Stop, [], $"It was seen to be damaged on {Say.Day(damaged.At)}.", Actions.Stop);
        }
    }

    private static IEnumerable<Finding> LowCells(Evidence evidence)
    {
        PackRecord record = evidence.Record;
        LimitTable limits = evidence.Limits;
        if (record.Rests.Count == 0)
        {
            yield break;
        }

        RestReading deepest = record.Rests.MinBy(reading => reading.Volts.Min())!;
        RestReading latest = record.Rests[^1];
        double lowest = deepest.Volts.Min();
        if (lowest < limits[LimitKey.LowCellStop])
        {
            yield return Low(deepest, FindingLevel.Stop, limits[LimitKey.LowCellStop], "Nothing that is measured later can rule out harm inside.", Actions.Stop);
        }
        else if (lowest < limits[LimitKey.LowCellCaution] && !record.Moment.IsPast(deepest.At, RecentDays))
        {
            bool still = latest.Volts.Min() < limits[LimitKey.LowCellCaution];
            yield return Low(
                deepest,
                FindingLevel.Watch,
                limits[LimitKey.LowCellCaution],
                still ? "It still is." : "It was charged since.",
                still
                    ? "Do not charge it unless the maker's instructions allow it at this voltage, and then only as slowly as they say, attended, away from anything that burns."
                    : "Watch that cell's resistance and its loss at rest; stop the pack at the first sign of swelling or warmth.");
        }
        else if (Latch.StillPast(record.Rests.Reverse().Select(reading => -reading.Volts.Min()), -limits[LimitKey.LowCellWatch] + 1e-9, -limits[LimitKey.LowCellWatch] - LowCellRelease))
        {
            yield return Low(latest, FindingLevel.Watch, limits[LimitKey.LowCellWatch], "It only gets lower by lying.", "Charge it to storage level soon, within the maker's limits.");
        }
    }

    private static Finding Low(RestReading reading, FindingLevel level, double limit, string remark, string action)
    {
        int cell = 1 + Enumerable.Range(0, reading.Volts.Count).MinBy(i => reading.Volts[i]);
        double volts = reading.Volts[cell - 1];
        return new Finding(
            FindingCode.LowCell, level, cell, volts, "V", null, null, limit, volts - limit,
            reading.SessionId is { } id ? [id] : [],
            $"Cell {cell} stood at {Say.Number(volts, "0.000")} V at rest on {Say.Day(reading.At)}, {(volts < limit ? "below" : "hardly above")} {Say.Number(limit, "0.0#")} V. {remark}",
            action);
    }

    private static IEnumerable<Finding> OverVoltage(Evidence evidence)
    {
        LimitTable limits = evidence.Limits;
        var over = Recent(evidence)
            .SelectMany(session => session.Summary.Cells.Where(cell => cell.MaxVolts > limits[LimitKey.OverVoltageWatch]).Select(cell => (Session: session, Cell: cell)))
            .ToList();
        if (over.Count == 0)
        {
            yield break;
        }

        var worst = over.MaxBy(item => item.Cell.MaxVolts);
        double volts = worst.Cell.MaxVolts!.Value;
        bool grave = volts > limits[LimitKey.OverVoltageStop];
        double limit = limits[grave ? LimitKey.OverVoltageStop : LimitKey.OverVoltageWatch];
        long[] sessions = [.. over.Select(item => item.Session.Id).Distinct()];
        yield return new Finding(
            FindingCode.OverVoltage, grave ? FindingLevel.Stop : FindingLevel.Watch, worst.Cell.Cell, volts, "V", null, null, limit, limit - volts, sessions,
            $"Cell {worst.Cell.Cell} reached {Say.Number(volts, "0.000")} V on {Say.Day(worst.Session.Started)}, above {Say.Number(limit, "0.00")} V; {Say.Count(sessions.Length, "session", "sessions")} in the past year.",
            grave ? Actions.Stop : "Charge only with the balance lead connected, check the charger's chemistry setting and its cell voltages against a meter, and never leave it charging alone.");
    }

    private static IEnumerable<Finding> ChargeTemperature(Evidence evidence)
    {
        LimitTable limits = evidence.Limits;
        double low = limits[LimitKey.ChargeTemperatureLow];
        double high = limits[LimitKey.ChargeTemperatureHigh];
        SessionRecord[] outside = [.. Recent(evidence).Where(session => session.Summary.PeakChargeAmperes > 0.05 && session.Summary.Kind != SessionKind.Discharge && (session.Summary.MinCelsius < low || session.Summary.MaxCelsius > high))];
        if (outside.Length == 0)
        {
            yield break;
        }

        SessionRecord last = outside[^1];
        bool cold = last.Summary.MinCelsius < low;
        double value = (cold ? last.Summary.MinCelsius : last.Summary.MaxCelsius)!.Value;
        double limit = cold ? low : high;
        yield return new Finding(
            FindingCode.Temperature, FindingLevel.Watch, null, value, "degC", null, null, limit, cold ? value - limit : limit - value,
            [.. outside.Select(session => session.Id)],
            $"It was charged at {Say.Number(value, "0.0")} C on {Say.Day(last.Started)}, {(cold ? "below" : "above")} {Say.Number(limit, "0")} C; {Say.Count(outside.Length, "charge", "charges")} in the past year.",
            cold ? "Let a cold pack come to room temperature before charging it: charging cold cells harms them for good." : "Let it cool before charging, charge slower, and find out why it got warm.");
    }

    private static IEnumerable<Finding> UseTemperature(Evidence evidence)
    {
        LimitTable limits = evidence.Limits;
        double watch = limits[LimitKey.UseTemperatureWatch];
        var hot = evidence.Record.Entries.Where(entry => entry.MaxCelsius > watch).Select(entry => (entry.At, Celsius: entry.MaxCelsius!.Value, Id: (long?)null))
            .Concat(evidence.Record.Sessions.Where(session => session.Summary.Kind == SessionKind.Discharge && session.Summary.MaxCelsius > watch).Select(session => (At: session.Started, Celsius: session.Summary.MaxCelsius!.Value, Id: (long?)session.Id)))
            .Where(item => !evidence.Record.Moment.IsPast(item.At, RecentDays))
            .ToList();
        if (hot.Count == 0)
        {
            yield break;
        }

        var worst = hot.MaxBy(item => item.Celsius);
        bool grave = worst.Celsius >= limits[LimitKey.UseTemperatureStop];
        double limit = limits[grave ? LimitKey.UseTemperatureStop : LimitKey.UseTemperatureWatch];
        yield return new Finding(
            FindingCode.Temperature, grave ? FindingLevel.Stop : FindingLevel.Watch, null, worst.Celsius, "degC", null, null, limit, limit - worst.Celsius,
            [.. hot.Select(item => item.Id).OfType<long>()],
            $"It reached {Say.Number(worst.Celsius, "0.0")} C in use on {Say.Day(worst.At)}, above {Say.Number(limit, "0")} C; {Say.Count(hot.Count, "time", "times")} in the past year.",
            grave ? Actions.Stop : "Ask less current of it or cool it better, let it cool before charging, and look it over for swelling.");
    }

    private static IEnumerable<SessionRecord> Recent(Evidence evidence) =>
        evidence.Record.Sessions.Where(session => !evidence.Record.Moment.IsPast(session.Started, RecentDays));

    private static Finding Plain(FindingCode code, FindingLevel level, IReadOnlyList<long> sessions, string text, string action) =>
        new(code, level, null, null, null, null, null, null, null, sessions, text, action);
}
