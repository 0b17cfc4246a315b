using PackCare.Analysis.Assessments;

namespace PackCare.Cli.Output;

/// <summary>Assessments for programs. Units are in the keys; absent knowledge is null.</summary>
internal static class AssessmentJson
{
    /// <summary>One due item.</summary>
    public static object Of(DueItem item) => new
    {
        Pack = item.PackLabel,
        item.Urgency,
        SinceUtc = JsonText.Utc(item.Since),
        Finding = Of(item.Finding),
    };

    /// <summary>A pack with its standing and the figures of a list.</summary>
    public static object Of(PackBrief brief) => new
    {
        Pack = PackJson.Of(brief.Pack),
        brief.Standing,
        brief.RestSpreadMillivolts,
        brief.HealthPercent,
        brief.ResistanceRatio,
        CurrentSpellDays = brief.CurrentSpell?.Days,
        LastRecordUtc = JsonText.Utc(brief.LastRecord),
    };

    /// <summary>All that is concluded about a pack.</summary>
    public static object Of(PackAssessment assessment) => new
    {
        Pack = PackJson.Of(assessment.Pack),
        AssessedUtc = JsonText.Utc(assessment.Assessed),
        Standing = new { Level = assessment.Standing, Findings = assessment.Findings.Select(Of) },
        Imbalance = Of(assessment.Imbalance),
        FullCharge = Of(assessment.FullCharge),
        Resistance = Of(assessment.Resistance),
        Capacity = Of(assessment.Capacity),
        Usage = new
        {
            assessment.Usage.Sessions,
            assessment.Usage.EquivalentFullCycles,
            EquivalentFullCyclesLow = assessment.Usage.EstimatedCycles?.Low,
            EquivalentFullCyclesHigh = assessment.Usage.EstimatedCycles?.High,
            EquivalentFullCyclesCount = assessment.Usage.EstimatedCycles?.Count,
            assessment.Usage.ThroughputAh,
            FirstUtc = JsonText.Utc(assessment.Usage.First),
            LastUtc = JsonText.Utc(assessment.Usage.Last),
        },
    };

    private static object Of(Finding finding) => new
    {
        finding.Code,
        finding.Level,
        finding.Cell,
        finding.Value,
        finding.Unit,
        finding.Low,
        finding.High,
        finding.Count,
        finding.Limit,
        finding.Margin,
        finding.Sessions,
        finding.Text,
        finding.Action,
    };

    private static object Of(ImbalanceAssessment imbalance) => new
    {
        imbalance.RestSpreadMillivolts,
        MeasuredUtc = JsonText.Utc(imbalance.Measured),
        imbalance.DeviationMillivolts,
        ChargeOffsetPercent = imbalance.ChargeOffsetPercent.Select(offset => offset.Value),
        ChargeOffsetPercentLow = imbalance.ChargeOffsetPercent.Select(offset => offset.Low),
        ChargeOffsetPercentHigh = imbalance.ChargeOffsetPercent.Select(offset => offset.High),
        ChargeOffsetPercentCount = imbalance.ChargeOffsetPercent.Select(offset => offset.Count),
        Trend = new
        {
            Cell = imbalance.TrendCell,
            PerCycleMillivolts = imbalance.TrendMillivoltsPerCycle?.Value,
            imbalance.TrendMillivoltsPerCycle?.Low,
            imbalance.TrendMillivoltsPerCycle?.High,
            imbalance.TrendMillivoltsPerCycle?.Count,
            TooLittleData = Reason(imbalance.TrendMillivolts),
        },
        imbalance.Cause,
        imbalance.Evidence,
    };

    private static object Of(FullChargeAssessment full) => new
    {
        full.ThresholdVoltsPerCell,
        full.DaysConfirmed,
        full.DaysPossible,
        CurrentSpellDays = full.CurrentSpell?.Days,
        Spells = full.Spells.Select(spell => new { FromUtc = JsonText.Utc(spell.From), ToUtc = JsonText.Utc(spell.To), spell.Days, spell.Confirmed, spell.InProgress }),
        full.ExtraLossPercentLow,
        full.ExtraLossPercentHigh,
    };

    private static object Of(ResistanceAssessment resistance) => new
    {
        resistance.ReferenceCelsius,
        resistance.LagSeconds,
        Cells = resistance.Cells.Select(cell => new
        {
            cell.Cell,
            Milliohm = cell.Milliohms?.Value,
            cell.Milliohms?.Low,
            cell.Milliohms?.High,
            cell.Milliohms?.Count,
            BaselineMilliohm = cell.BaselineMilliohms?.Value,
            BaselineMilliohmLow = cell.BaselineMilliohms?.Low,
            BaselineMilliohmHigh = cell.BaselineMilliohms?.High,
            BaselineMilliohmCount = cell.BaselineMilliohms?.Count,
            Ratio = cell.Ratio?.Value,
            RatioLow = cell.Ratio?.Low,
            RatioHigh = cell.Ratio?.High,
            RatioCount = cell.Ratio?.Count,
            Per100CyclesMilliohm = cell.Per100CyclesMilliohms?.Value,
            Per100CyclesMilliohmLow = cell.Per100CyclesMilliohms?.Low,
            Per100CyclesMilliohmHigh = cell.Per100CyclesMilliohms?.High,
            Per100CyclesMilliohmCount = cell.Per100CyclesMilliohms?.Count,
            LimitReachedUtc = Expected(cell.LimitReached),
            LimitReachedLowUtc = Low(cell.LimitReached),
            LimitReachedHighUtc = High(cell.LimitReached),
            LimitReachedCount = Count(cell.LimitReached),
            LimitOutlook = Outlook(cell.LimitReached),
        }),
        LeadMilliohm = resistance.LeadMilliohms?.Value,
        LeadMilliohmLow = resistance.LeadMilliohms?.Low,
        LeadMilliohmHigh = resistance.LeadMilliohms?.High,
        LeadMilliohmCount = resistance.LeadMilliohms?.Count,
    };

    private static object Of(CapacityAssessment capacity) => new
    {
        LatestAh = capacity.LatestAh?.Value,
        capacity.LatestAh?.Low,
        capacity.LatestAh?.High,
        capacity.LatestAh?.Count,
        capacity.ReferenceAh,
        ReferenceAhLow = capacity.FirstMeasuredAh?.Low,
        ReferenceAhHigh = capacity.FirstMeasuredAh?.High,
        ReferenceAhCount = capacity.FirstMeasuredAh?.Count,
        capacity.ReferenceIsRated,
        HealthPercent = capacity.HealthPercent?.Value,
        HealthPercentLow = capacity.HealthPercent?.Low,
        HealthPercentHigh = capacity.HealthPercent?.High,
        HealthPercentCount = capacity.HealthPercent?.Count,
        Per100CyclesPercent = capacity.Per100CyclesPercent?.Value,
        Per100CyclesPercentLow = capacity.Per100CyclesPercent?.Low,
        Per100CyclesPercentHigh = capacity.Per100CyclesPercent?.High,
        Per100CyclesPercentCount = capacity.Per100CyclesPercent?.Count,
        LimitReachedUtc = Expected(capacity.LimitReached),
        LimitReachedLowUtc = Low(capacity.LimitReached),
        LimitReachedHighUtc = High(capacity.LimitReached),
        LimitReachedCount = Count(capacity.LimitReached),
        LimitOutlook = Outlook(capacity.LimitReached),
    };

    private static string? Reason(Trend trend) => (trend as Trend.TooLittleData)?.Reason;

    private static string? Expected(LimitDate date) => JsonText.Utc((date as LimitDate.Ahead)?.Expected);

    private static string? Low(LimitDate date) => JsonText.Utc((date as LimitDate.Ahead)?.Low);

    private static string? High(LimitDate date) => JsonText.Utc((date as LimitDate.Ahead)?.High);

    private static int? Count(LimitDate date) => date switch
    {
        LimitDate.Ahead ahead => ahead.Count,
        LimitDate.NotWithin beyond => beyond.Count,
        _ => null,
    };

    private static string Outlook(LimitDate date) => LimitText.Of(date);
}
