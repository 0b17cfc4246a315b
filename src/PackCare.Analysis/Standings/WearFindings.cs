using PackCare.Analysis.Assessments;
using PackCare.Analysis.Limits;
using PackCare.Analysis.Resistance;
using PackCare.Analysis.Statistics;
using PackCare.Analysis.Wording;
using PackCare.Core.Estimates;
using PackCare.Core.Sessions;

namespace PackCare.Analysis.Standings;

/// <summary>Findings about resistance and capacity.</summary>
internal static class WearFindings
{
    /// <summary>How many capacity readings a finding takes.</summary>
    public const int CapacitySessions = 3;

    private const double LeastLeadMilliohms = 2;

    /// <summary>The findings.</summary>
    public static IEnumerable<Finding> Of(Evidence evidence) => Resistances(evidence).Concat(Capacity(evidence)).Concat(Leads(evidence));

    private static IEnumerable<Finding> Resistances(Evidence evidence)
    {
        IReadOnlyList<ResistancePoint> judged = ResistanceJudge.Judged(evidence.Resistance);
        foreach (CellResistance cell in evidence.Resistance.Cells)
        {
            if (cell.Ratio is not { } ratio || cell.Milliohms is not { } now || cell.BaselineMilliohms is not { } baseline)
            {
                continue;
            }

            double[] recent = [.. judged.Where(point => point.Cell == cell.Cell).Select(point => point.Milliohms.Value / baseline.Value)];
            bool grave = Stands(ratio, recent, evidence.Limits[LimitKey.ResistanceRetire]);
            if (!grave && !Stands(ratio, recent, evidence.Limits[LimitKey.ResistanceWatch]))
            {
                continue;
            }

            double limit = evidence.Limits[grave ? LimitKey.ResistanceRetire : LimitKey.ResistanceWatch];
            yield return new Finding(
                FindingCode.Resistance,
                grave ? FindingLevel.Retire : FindingLevel.Watch,
                cell.Cell,
                ratio.Value,
                "ratio",
                ratio.Low,
                ratio.High,
                limit,
                limit - ratio.Value,
                [.. judged.Where(point => point.Cell == cell.Cell).Select(point => point.SessionId).OfType<long>()],
                $"Cell {cell.Cell} has {Say.Interval(now, "0.00", "mOhm")} at 25 C, {Say.Interval(ratio, "0.00", "times")} the {Say.Interval(baseline, "0.00", "mOhm")} of its first sessions, {Say.FromSessions(now.Count)}.",
                grave ? Actions.Retire : "Ask less current of it, watch its temperature in use, and compare again after five more sessions.",
                Count: now.Count);
        }
    }

    // How far the estimate must have gone, as a part of the way from harmless to the limit. The latch over the readings says whether it is past
    // the limit; were the estimate held against the limit itself, one that swings about it would raise and drop the finding in turn.
    private const double EstimateToo = 0.6;

    private static bool Stands(Estimate ratio, double[] recent, double limit) =>
        Latch.Holds(recent, limit, 1) && ratio.Value >= 1 + (EstimateToo * (limit - 1)) && ratio.Low >= 1 + (0.5 * (limit - 1));

    private static IEnumerable<Finding> Capacity(Evidence evidence)
    {
        CapacityAssessment capacity = evidence.Capacity;
        if (capacity.HealthPercent is not { } health || capacity.LatestAh is not { } latest || capacity.Series.Count < CapacitySessions)
        {
            yield break;
        }

        double watch = evidence.Limits[LimitKey.CapacityWatch];
        double act = evidence.Limits[LimitKey.CapacityRetire];
        double[] readings = [.. capacity.Series.Select(point => 100 * point.AmpereHours.Value / capacity.ReferenceAh!.Value)];
        bool grave = Faded(health, readings, act);
        // A capacity that only may be low is not held against the pack: the interval must leave out a healthy one.
        if (health.High >= 97 || (!grave && !Faded(health, readings, watch)))
        {
            yield break;
        }

        double limit = grave ? act : watch;
        yield return new Finding(
            FindingCode.Capacity,
            grave ? FindingLevel.Retire : FindingLevel.Watch,
            null,
            health.Value,
            "%",
            health.Low,
            health.High,
            limit,
            health.Value - limit,
            [.. capacity.Series.Select(point => point.SessionId)],
            $"It holds {Say.Interval(latest, "0.00", "Ah")}, {Say.Interval(health, "0", "%")} of the {(capacity.FirstMeasuredAh is { } first ? $"{Say.Interval(first, "0.00", "Ah")} it held at first" : $"{Say.Number(capacity.ReferenceAh!.Value, "0.00")} Ah rated")}, {Say.FromSessions(capacity.Series.Count)}.",
            grave ? Actions.Retire : "Plan shorter runs, and a successor.",
            Count: latest.Count);
    }

    private static bool Faded(Estimate health, double[] readings, double limit) =>
        Latch.Holds(readings, limit, 100) && health.Value <= 100 - (EstimateToo * (100 - limit));

    private static IEnumerable<Finding> Leads(Evidence evidence)
    {
        (long Id, ResistanceReading Lead)[] leads = [.. evidence.Record.Sessions
            .Where(session => session.Summary.LeadResistance is not null)
            .Select(session => (session.Id, session.Summary.LeadResistance!))];
        if (leads.Length < ResistanceJudge.RatioSessions)
        {
            yield break;
        }

        Estimate baseline = Estimates.WeightedMean([.. leads.Take(ResistanceJudge.BaselineSessions).Select(AsEstimate)]);
        Estimate now = Estimates.WeightedMean([.. leads.TakeLast(3).Select(AsEstimate)]);
        // A hundredth of a milliohm may well double; below a floor it is only contact and meter.
        if (baseline.Value <= 0 || now.Value < LeastLeadMilliohms || now.Value - baseline.Value < LeastLeadMilliohms)
        {
            yield break;
        }

        Estimate ratio = Estimates.Ratio(now, baseline);
        double[] recent = [.. leads.Select(item => item.Lead.Ohms * 1000 / baseline.Value)];
        bool grave = Stands(ratio, recent, evidence.Limits[LimitKey.LeadResistanceRetire]);
        if (!grave && !Stands(ratio, recent, evidence.Limits[LimitKey.LeadResistanceWatch]))
        {
            yield break;
        }

        double limit = evidence.Limits[grave ? LimitKey.LeadResistanceRetire : LimitKey.LeadResistanceWatch];
        yield return new Finding(
            FindingCode.LeadResistance,
            FindingLevel.Watch,
            null,
            ratio.Value,
            "ratio",
            ratio.Low,
            ratio.High,
            limit,
            limit - ratio.Value,
            [.. leads.Select(item => item.Id)],
            $"Leads and connector have {Say.Interval(now, "0.0", "mOhm")}, {Say.Interval(ratio, "0.0", "times")} the {Say.Interval(baseline, "0.0", "mOhm")} of the first sessions, {Say.FromSessions(leads.Length)}.",
            $"{(grave ? "Do not draw high current before it is mended: a bad contact gets hot. " : "")}Look for a worn, loose or discoloured connector and have it replaced; check the charge lead as well, by which all packs would show it.",
            DueUrgency.Due,
            Count: leads.Length);
    }

    private static Estimate AsEstimate((long Id, ResistanceReading Lead) item) =>
        Estimates.FromNormal(item.Lead.Ohms * 1000, Math.Max(item.Lead.StandardErrorOhms * 1000, 0.05), item.Lead.Count);
}
