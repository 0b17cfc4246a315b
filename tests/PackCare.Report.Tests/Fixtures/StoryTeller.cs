using System.Globalization;
using PackCare.Analysis.Assessments;
using PackCare.Core.Estimates;
using PackCare.Core.Packs;
using PackCare.Core.Samples;
using PackCare.Core.Sessions;
using PackCare.Core.Units;

namespace PackCare.Report.Tests.Fixtures;

/// <summary>
/// Makes report input from invented stories: figures that hang together well enough to be drawn. Nothing here says
/// anything about real packs.
/// </summary>
internal static class StoryTeller
{
    public static readonly DateTimeOffset Now = new(2026, 6, 1, 18, 30, 0, TimeSpan.FromHours(2));

    private const double DaysBetween = 21;

    /// <summary>Packs in every state that a report must be able to show.</summary>
    public static ReportInput Everything() => Tell(
        "Everything here is invented.",
        new Story { Label = "Heron 4S A" },
        new Story { Label = "Heron 4S B", DriftMillivolts = -1.9 },
        new Story { Label = "Stork 4S", LeakMillivolts = 24 },
        new Story { Label = "Otter 6S", Cells = 6, RatedAh = 8, OddCell = 5, FullDays = 9, FullConfirmed = true },
        new Story { Label = "Dipper 3S", Cells = 3, RatedAh = 2.2, OddCell = 2, ResistanceGrowth = 2.3, Fade = 0.24 },
        new Story { Label = "Grebe 2S", Cells = 2, OddCell = 1, Swollen = true, FullDays = 2 },
        new Story { Label = "Newcomer", Charges = 2, RatedAh = null },
        new Story { Label = "Never logged", Charges = 0 },
        new Story { Label = "Wader 12S", Cells = 12, OddCell = 7, RatedAh = 16, DriftMillivolts = 1.1, ResistanceGrowth = 1.6, Fade = 0.16 },
        new Story { Label = "Old Swan", Retired = true, Fade = 0.4 });

    public static ReportInput Tell(string? notice, params IEnumerable<Story> stories)
    {
        List<ReportPack> packs = [.. stories.Select((story, at) => Tell(story, at + 1))];
        var due = new List<DueItem>();
        foreach (ReportPack pack in packs.Where(pack => pack.Assessment.Pack.Retirement is null))
        {
            foreach (Finding finding in pack.Assessment.Findings.Where(finding => finding.Level != FindingLevel.Note || finding.Code == FindingCode.TooLittleData))
            {
                DueUrgency urgency = finding.Level == FindingLevel.Stop ? DueUrgency.Stop
                    : finding.Code == FindingCode.FullSpell ? DueUrgency.Overdue
                    : finding.Code == FindingCode.RestSpread ? DueUrgency.Due
                    : DueUrgency.Plan;
                due.Add(new DueItem(pack.Assessment.Pack.Label, urgency, finding, finding.Code == FindingCode.FullSpell ? pack.Assessment.FullCharge.CurrentSpell?.From : null));
            }
        }

        return new ReportInput(Now, packs, [.. due.OrderBy(item => item.Urgency)], notice);
    }

    public static ReportPack Tell(Story story, int id)
    {
        var random = new Random(id * 7919);
        DateTimeOffset first = Now.AddDays(-DaysBetween * Math.Max(0, story.Charges - 1) - story.FullDays).AddHours(-5);
        var details = new PackDetails(story.Label, story.Cells, RatedCapacity: story.RatedAh is { } ah ? new AmpereHours(ah) : null, Vehicle: "survey boat");
        var pack = new Pack(id, details, first.AddDays(-1), story.Retired ? new Retirement(Now.AddDays(-40), "held too little") : null);

        List<DateTimeOffset> times = [.. Enumerable.Range(0, story.Charges).Select(charge => first.AddDays(DaysBetween * charge))];
        List<DeviationPoint> deviations = Deviations(story, times, random);
        ImbalanceAssessment imbalance = Imbalance(story, deviations);
        ResistanceAssessment resistance = Resistance(story, times, random);
        CapacityAssessment capacity = Capacity(story, times, random);
        IReadOnlyList<PackDay> days = Days(story, times);
        FullChargeAssessment full = FullCharge(story, times);
        List<Finding> findings = Findings(story, imbalance, resistance, capacity, full);
        Standing standing = findings.Count > 0 && findings[0].Level > FindingLevel.Note
            ? findings[0].Level switch { FindingLevel.Watch => Standing.Watch, FindingLevel.Retire => Standing.Retire, _ => Standing.Stop }
            : story.Charges < 5 ? Standing.Unknown : Standing.Sound;
        var usage = new UsageAssessment(
            story.Charges,
            story.Charges == 0 ? null : story.Charges * 0.8 * (story.RatedAh ?? 4),
            story.Charges == 0 ? null : story.Charges * 0.8,
            story.Charges == 0 ? null : times[0],
            story.Charges == 0 ? null : times[^1]);
        var assessment = new PackAssessment(pack, Now, standing, findings, imbalance, full, resistance, capacity, usage, days);

        SampleSeries? samples = story.Charges == 0 ? null : Samples(story, random);
        List<SessionRecord> sessions = [.. times.Select((time, at) => Session(story, id, at, time))];
        var history = new PackHistory(pack, sessions, [], []);
        return new ReportPack(assessment, history, sessions.Count > 0 ? sessions[^1] : null, samples);
    }

    private static List<DeviationPoint> Deviations(Story story, List<DateTimeOffset> times, Random random)
    {
        var points = new List<DeviationPoint>();
        for (int charge = 0; charge < times.Count; charge++)
        {
            points.Add(new DeviationPoint(times[charge].AddHours(2), charge + 1, true, 4.18, Cells(story, cell =>
                (cell == story.OddCell ? story.DriftMillivolts * charge : 0) + (Noise(random) * 1.5) + ((cell % 3) - 1))));
            if (charge % 3 == 1)
            {
                points.Add(new DeviationPoint(times[charge].AddDays(8), null, false, 3.82, Cells(story, cell => (Noise(random) * 5) - (cell == story.OddCell ? story.LeakMillivolts : 0))));
            }
        }

        return points;
    }

    private static ImbalanceAssessment Imbalance(Story story, List<DeviationPoint> points)
    {
        List<DeviationPoint> full = [.. points.Where(point => point.AfterFullCharge)];
        DeviationPoint? last = full.LastOrDefault();
        Trend trend = full.Count >= 5
            ? Line([.. full.Select(point => (point.At, point.Millivolts[story.OddCell - 1]))])
            : new Trend.TooLittleData(full.Count, 5, "a trend takes five rests after a full charge");
        bool drifts = story.DriftMillivolts != 0;
        bool leaks = story.LeakMillivolts != 0;
        return new ImbalanceAssessment(
            last is null ? null : last.Millivolts.Max() - last.Millivolts.Min(),
            last?.At,
            last?.Millivolts ?? [],
            [],
            trend is Trend.Fitted ? story.OddCell : null,
            trend,
            null,
            points.Count == 0 ? ImbalanceCause.Undetermined : leaks ? ImbalanceCause.SelfDischarge : drifts ? ImbalanceCause.ChargeOffset : ImbalanceCause.None,
            leaks ? ["The offset grows with time at rest, most from 2026-02-03 to 2026-03-04."]
                : drifts ? ["The curve of the cell is a shifted copy of the others."]
                : [],
            points);
    }

    private static ResistanceAssessment Resistance(Story story, List<DateTimeOffset> times, Random random)
    {
        var points = new List<ResistancePoint>();
        var cells = new List<CellResistance>();
        for (int cell = 1; cell <= story.Cells; cell++)
        {
            double start = 5 + (cell * 0.15);
            double growth = cell == story.OddCell ? story.ResistanceGrowth : 1.04;
            var own = new List<(DateTimeOffset At, double Value)>();
            for (int charge = 0; charge < times.Count; charge++)
            {
                double value = (start * (1 + ((growth - 1) * charge / Math.Max(1, times.Count - 1)))) + (Noise(random) * 0.12);
                own.Add((times[charge], value));
                points.Add(new ResistancePoint(times[charge], charge + 1, cell, Around(value, 0.15 + (0.1 * random.NextDouble()), 6), 10, false));
            }

            bool enough = own.Count >= 5;
            Trend trend = enough ? Line(own) : new Trend.TooLittleData(own.Count, 5, "a trend takes five sessions with current steps");
            double ratio = growth;
            LimitDate limit = !enough ? new LimitDate.TooLittleData("a trend takes five sessions with current steps")
                : ratio >= 2 ? new LimitDate.Passed()
                : ratio >= 1.4 ? new LimitDate.Ahead(Now.AddDays(170), Now.AddDays(110), Now.AddDays(290), own.Count)
                : ratio >= 1.05 ? new LimitDate.Ahead(Now.AddDays(3000), Now.AddDays(1500), null, own.Count)
                : new LimitDate.NotWithin(10, own.Count);
            cells.Add(new CellResistance(cell, own.Count == 0 ? null : Around(own[^1].Value, 0.1, own.Count), enough ? Around(start, 0.05, 3) : null, enough ? Around(ratio, 0.04, own.Count) : null, trend, null, limit));
        }

        points.Sort((a, b) => (a.At, a.Cell).CompareTo((b.At, b.Cell)));
        return new ResistanceAssessment(25, times.Count == 0 ? null : 10, cells, times.Count == 0 ? null : Around(2.4, 0.2, times.Count), 1.5, 2, points);
    }

    private static CapacityAssessment Capacity(Story story, List<DateTimeOffset> times, Random random)
    {
        double rated = story.RatedAh ?? 4;
        var points = new List<CapacityPoint>();
        for (int charge = 0; charge < times.Count; charge++)
        {
            bool complete = charge % 3 != 2;
            double value = rated * (0.99 - (story.Fade * charge / Math.Max(1, times.Count - 1))) * (1 + (Noise(random) * (complete ? 0.006 : 0.03)));
            points.Add(new CapacityPoint(times[charge], charge + 1, Around(value, rated * (complete ? 0.006 : 0.025), 1), complete));
        }

        bool enough = points.Count >= 5;
        double health = 100 * (0.99 - story.Fade);
        Trend trend = enough
            ? Line([.. points.Select(point => (point.At, point.AmpereHours.Value))])
            : new Trend.TooLittleData(points.Count, 5, "a trend takes five sessions that show a capacity");
        LimitDate limit = !enough ? new LimitDate.TooLittleData("a trend takes five sessions that show a capacity")
            : health < 80 ? new LimitDate.Passed()
            : story.Fade > 0.1 ? new LimitDate.Ahead(Now.AddDays(95), Now.AddDays(60), Now.AddDays(150), points.Count)
            : new LimitDate.NotWithin(5, points.Count);
        return new CapacityAssessment(
            enough ? Around(points[^1].AmpereHours.Value, rated * 0.008, points.Count) : null,
            story.RatedAh ?? (points.Count > 0 ? points[0].AmpereHours.Value : null),
            story.RatedAh is not null,
            enough ? Around(health, 0.8, points.Count) : null,
            trend,
            null,
            85,
            80,
            limit,
            points);
    }

    private static List<PackDay> Days(Story story, List<DateTimeOffset> times)
    {
        if (times.Count == 0)
        {
            return [];
        }

        var days = new List<PackDay>();
        DateOnly today = DateOnly.FromDateTime(Now.UtcDateTime);
        for (DateOnly day = DateOnly.FromDateTime(times[0].UtcDateTime); day <= today; day = day.AddDays(1))
        {
            double since = times.Where(time => DateOnly.FromDateTime(time.UtcDateTime) <= day).Select(time => (double)(day.DayNumber - DateOnly.FromDateTime(time.UtcDateTime).DayNumber)).Min();
            int charge = times.Count(time => DateOnly.FromDateTime(time.UtcDateTime) <= day);
            bool lastCharge = charge == times.Count;
            DayState state = since == 0 ? DayState.InUse
                : lastCharge && story.FullDays > 0 ? story.FullConfirmed ? DayState.Full : DayState.PossiblyFull
                : since <= charge % 4 ? DayState.Full
                : since <= charge % 4 + 2 ? DayState.InUse
                : charge % 5 == 0 ? since < 9 ? DayState.PossiblyFull : DayState.Unknown
                : charge % 5 == 3 ? DayState.Part
                : DayState.Storage;
            days.Add(new PackDay(day, state));
        }

        return days;
    }

    private static FullChargeAssessment FullCharge(Story story, List<DateTimeOffset> times)
    {
        var spells = new List<FullSpell>();
        for (int charge = 0; charge < times.Count - 1; charge++)
        {
            if ((charge + 1) % 4 > 0)
            {
                spells.Add(new FullSpell(times[charge].AddHours(2), times[charge].AddHours(2).AddDays((charge + 1) % 4), true, false));
            }
        }

        FullSpell? current = story.FullDays > 0 && times.Count > 0 ? new FullSpell(Now.AddDays(-story.FullDays), Now, story.FullConfirmed, true) : null;
        if (current is not null)
        {
            spells.Add(current);
        }

        return new FullChargeAssessment(
            4.10,
            spells.Where(spell => spell.Confirmed).Sum(spell => spell.Days),
            spells.Where(spell => !spell.Confirmed).Sum(spell => spell.Days),
            current,
            spells,
            spells.Count == 0 ? null : 0.2,
            spells.Count == 0 ? null : 1.4);
    }

    private static List<Finding> Findings(Story story, ImbalanceAssessment imbalance, ResistanceAssessment resistance, CapacityAssessment capacity, FullChargeAssessment full)
    {
        var findings = new List<Finding>();
        if (story.Swollen)
        {
            findings.Add(new Finding(FindingCode.Swollen, FindingLevel.Stop, null, null, null, null, null, null, null, [], "The pack was seen to be swollen on 2026-05-20.", "Do not charge or use it; keep it where a fire does no harm and have it disposed of as local rules say."));
        }

        if (capacity.HealthPercent is { Value: < 80 } health)
        {
            findings.Add(new Finding(FindingCode.Capacity, FindingLevel.Retire, null, health.Value, "%", health.Low, health.High, 80, health.Value - 80, [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14], $"It holds {health.Value.ToString("F0", CultureInfo.InvariantCulture)} % of its rated capacity; the limit is 80 %.", "Plan to take it out of use."));
        }

        CellResistance? risen = resistance.Cells.FirstOrDefault(cell => cell.Ratio is { Value: >= 1.5 });
        if (risen is not null)
        {
            bool act = risen.Ratio!.Value >= 2;
            findings.Add(new Finding(FindingCode.Resistance, act ? FindingLevel.Retire : FindingLevel.Watch, risen.Cell, risen.Ratio.Value, "ratio", risen.Ratio.Low, risen.Ratio.High, act ? 2 : 1.5, (act ? 2 : 1.5) - risen.Ratio.Value, [18, 19, 20], $"The resistance of cell {risen.Cell.ToString(CultureInfo.InvariantCulture)} is {risen.Ratio.Value.ToString("F2", CultureInfo.InvariantCulture)} times its baseline.", act ? "Plan to take it out of use." : "Keep it for gentle use and watch it."));
        }

        if (imbalance.RestSpreadMillivolts is > 15 and { } spread)
        {
            findings.Add(new Finding(FindingCode.RestSpread, FindingLevel.Watch, story.OddCell, spread, "mV", null, null, 15, 15 - spread, [20], $"The cells are {spread.ToString("F0", CultureInfo.InvariantCulture)} mV apart at rest after a full charge; the limit is 15 mV.", "Charge it once with balancing to the end, then check again after a week."));
        }

        if (full.CurrentSpell is { Days: > 1 } spell)
        {
            findings.Add(new Finding(FindingCode.FullSpell, FindingLevel.Watch, null, spell.Days, "d", null, null, 3, 3 - spell.Days, [20], $"It has {(spell.Confirmed ? "" : "perhaps ")}been full for {spell.Days.ToString("F0", CultureInfo.InvariantCulture)} days.", "Use it or bring it to storage level today."));
        }

        if (story.Charges < 5)
        {
            findings.Add(new Finding(FindingCode.TooLittleData, FindingLevel.Note, null, story.Charges, null, null, null, 5, null, [], $"Only {story.Charges.ToString(CultureInfo.InvariantCulture)} of the 5 sessions that a judgement takes are on record.", "Log the next charges with cell voltages."));
        }

        return [.. findings.OrderByDescending(finding => finding.Level)];
    }

    private static SessionRecord Session(Story story, int id, int at, DateTimeOffset time)
    {
        double rated = story.RatedAh ?? 4;
        var cells = Enumerable.Range(1, story.Cells).Select(cell => new CellSummary(cell, 3.78, 4.2 + (cell == story.OddCell ? story.DriftMillivolts * at / 1000 : 0), 3.78, 4.19, 3.78, 4.2)).ToList();
        var summary = new SessionSummary(1, SessionKind.Charge, 4200, story.SamplesPerCharge, 7, rated * 0.6, 0, rated * 0.6 * 4 * story.Cells, 0, rated, 0, 24, 21, 29, 60, 120, true, null, cells);
        return new SessionRecord((id * 1000) + at + 1, id, $"log-{(at + 1).ToString(CultureInfo.InvariantCulture)}.csv", time, TimeQuality.Exact, summary);
    }

    private static SampleSeries Samples(Story story, Random random)
    {
        int count = story.SamplesPerCharge;
        double rated = story.RatedAh ?? 4;
        var time = new ChannelWriter(ChannelKey.Time);
        var current = new ChannelWriter(ChannelKey.Current);
        var temperature = new ChannelWriter(ChannelKey.Temperature(1));
        var cells = Enumerable.Range(1, story.Cells).Select(cell => new ChannelWriter(ChannelKey.Cell(cell))).ToArray();
        double charge = 0;
        double seconds = 4200.0 / count;
        for (int i = 0; i < count; i++)
        {
            double share = (double)i / count;
            double amperes = i < count / 100 ? 0 : share < 0.7 ? rated : rated * Math.Exp(-(share - 0.7) * 9);
            charge += amperes * seconds / 3600;
            time.TryAppend((long)(i * seconds * 10), 1);
            current.TryAppend((long)Math.Round(amperes * 100), 2);
            temperature.TryAppend((long)Math.Round((21 + (8 * share) + (Noise(random) * 0.1)) * 10), 1);
            for (int cell = 1; cell <= story.Cells; cell++)
            {
                double state = 0.35 + (charge / rated * 0.72) + (cell == story.OddCell ? story.DriftMillivolts / 60 : 0);
                double resistance = (cell == story.OddCell ? 0.006 * story.ResistanceGrowth : 0.006) * (5 / rated);
                double volts = RestVolts(state) + (amperes * resistance);
                cells[cell - 1].TryAppend((long)Math.Round((volts * 1000) + (Noise(random) * 0.6)), 3);
            }
        }

        return new SampleSeries([time.ToChannel(), current.ToChannel(), temperature.ToChannel(), .. cells.Select(cell => cell.ToChannel())]);
    }

    // Chen M., Rincon-Mora G. A. (2006), IEEE Trans. Energy Convers. 21(2), 504-511, equation for open-circuit voltage.
    private static double RestVolts(double s) => (-1.031 * Math.Exp(-35 * s)) + 3.685 + (0.2156 * s) - (0.1178 * s * s) + (0.3201 * s * s * s);

    private static List<double> Cells(Story story, Func<int, double> deviation)
    {
        List<double> raw = [.. Enumerable.Range(1, story.Cells).Select(deviation)];
        List<double> sorted = [.. raw.Order()];
        double median = (sorted[(sorted.Count - 1) / 2] + sorted[sorted.Count / 2]) / 2;
        return [.. raw.Select(value => value - median)];
    }

    private static double Noise(Random random) => random.NextDouble() + random.NextDouble() + random.NextDouble() - 1.5;

    private static Estimate Around(double value, double error, int count) => new(value, error, value - (2 * error), value + (2 * error), 0.95, count);

    private static Trend.Fitted Line(List<(DateTimeOffset At, double Value)> points)
    {
        DateTimeOffset origin = points[0].At;
        double[] xs = [.. points.Select(point => (point.At - origin).TotalDays)];
        double[] ys = [.. points.Select(point => point.Value)];
        double meanX = xs.Average();
        double meanY = ys.Average();
        double sxx = xs.Sum(x => (x - meanX) * (x - meanX));
        double slope = xs.Zip(ys, (x, y) => (x - meanX) * (y - meanY)).Sum() / sxx;
        double intercept = meanY - (slope * meanX);
        double variance = xs.Zip(ys, (x, y) => Math.Pow(y - intercept - (slope * x), 2)).Sum() / (xs.Length - 2);
        return new Trend.Fitted(
            origin,
            Around(intercept, Math.Sqrt(variance * ((1.0 / xs.Length) + (meanX * meanX / sxx))), xs.Length),
            Around(slope, Math.Sqrt(variance / sxx), xs.Length),
            -variance * meanX / sxx,
            xs.Length - 2,
            slope);
    }
}
