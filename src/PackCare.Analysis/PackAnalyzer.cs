using PackCare.Analysis.Assessments;
using PackCare.Analysis.Capacity;
using PackCare.Analysis.Digests;
using PackCare.Analysis.FullCharge;
using PackCare.Analysis.Imbalance;
using PackCare.Analysis.Limits;
using PackCare.Analysis.Records;
using PackCare.Analysis.Resistance;
using PackCare.Analysis.Standings;
using PackCare.Analysis.Usage;
using PackCare.Core.Packs;

namespace PackCare.Analysis;

/// <summary>Turns the record of a pack into an assessment. Pure: the same record and moment give the same assessment.</summary>
public static class PackAnalyzer
{
    /// <summary>Assesses one pack by the default limits of its chemistry.</summary>
    /// <param name="history">All that is on record about it.</param>
    /// <param name="now">The moment for which the assessment is to hold; later records are left out.</param>
    public static PackAssessment Analyze(PackHistory history, DateTimeOffset now) =>
        Analyze(history, now, LimitTable.Default(history.Pack.Details.Chemistry));

    /// <summary>Assesses one pack by given limits.</summary>
    /// <param name="history">All that is on record about it.</param>
    /// <param name="now">The moment for which the assessment is to hold; later records are left out.</param>
    /// <param name="limits">The limits in force.</param>
    public static PackAssessment Analyze(PackHistory history, DateTimeOffset now, LimitTable limits) => Judge(history, now, limits).Assessment;

    /// <summary>Assesses one pack by given limits, in a form that can be kept.</summary>
    /// <param name="history">All that is on record about it.</param>
    /// <param name="now">The moment for which the assessment is to hold; later records are left out.</param>
    /// <param name="limits">The limits in force.</param>
    public static PackDigest Digest(PackHistory history, DateTimeOffset now, LimitTable limits) => Judge(history, now, limits).Digest;

    private static (PackAssessment Assessment, PackDigest Digest) Judge(PackHistory history, DateTimeOffset now, LimitTable limits)
    {
        var record = new PackRecord(history, now);
        CapacityAssessment capacity = CapacityJudge.Of(record, limits);
        double? cycleAh = record.RatedAh ?? capacity.LatestAh?.Value;
        var usage = new UsageTimeline(record, cycleAh);
        ResistanceAssessment resistance = ResistanceJudge.Of(record, usage, limits);
        IReadOnlyList<Sighting> sightings = Sightings.Of(record);
        Passing passing = Passing.Of(record, sightings);
        FullChargeAssessment fullCharge = FullChargeJudge.Of(passing, now);
        ImbalanceFacts facts = ImbalanceFacts.Of(record, resistance, capacity.LatestAh?.Value ?? record.RatedAh);
        ImbalanceAssessment imbalance = ImbalanceJudge.Of(record, facts, usage, capacity.LatestAh?.Value ?? record.RatedAh, limits);
        var evidence = new Evidence(record, limits, facts, imbalance, fullCharge, resistance, capacity);
        Finding[] before = [.. SafetyFindings.Of(evidence).Concat(ImbalanceFindings.Of(evidence)).Concat(WearFindings.Of(evidence))];
        Finding[] after = [.. CareFindings.Of(evidence)];
        int sessions = record.Sessions.Count(session => session.Summary.Cells.Count == record.Cells);
        UsageAssessment used = usage.Assess(record.RatedAh is null ? capacity.LatestAh : null);

        // Last, since the moment knows only now how long all of it holds.
        var digest = new PackDigest(new DigestContent(
            record.Moment.HoldsFrom,
            record.Moment.HoldsUntil,
            imbalance.RestSpreadMillivolts,
            capacity.HealthPercent,
            resistance.WorstRatio,
            used.Last,
            sessions,
            before,
            after,
            passing.Trimmed(limits[LimitKey.FullSpellPast]),
            CareLimits.Of(limits)));
        Finding[] findings = digest.Findings(now);
        var assessment = new PackAssessment(
            history.Pack,
            now,
            StandingRule.Of(findings, sessions),
            findings,
            imbalance,
            fullCharge,
            resistance,
            capacity,
            used,
            DayStrip.Of(record, sightings, fullCharge.Spells));
        return (assessment, digest);
    }
}
