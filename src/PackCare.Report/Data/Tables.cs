using PackCare.Analysis.Assessments;
using PackCare.Core.Estimates;
using PackCare.Core.Packs;
using PackCare.Core.Samples;
using PackCare.Report.Charts;

namespace PackCare.Report.Data;

/// <summary>The tables of the export: every figure of the overview and every number behind every chart.</summary>
internal static class Tables
{
    private static readonly string[] EstimateParts = ["", "_standard_error", "_low", "_high", "_confidence", "_count"];

    /// <summary>All tables over all packs, without the samples of last charges.</summary>
    public static IReadOnlyList<DataSheet> Of(ReportInput input, IReadOnlyList<PackView> views) =>
    [
        Packs(views),
        Due(input),
        Findings(views),
        Deviations(views),
        Resistances(views),
        Capacities(views),
        Trends(views),
        Days(views),
        Spells(views),
    ];

    /// <summary>The samples of a pack's last charge in the documented plain layout; null where there are none.</summary>
    public static DataSheet? LastCharge(PackView view)
    {
        if (view.Pack.LastChargeSamples is not { } samples)
        {
            return null;
        }

        ChargeCurve curve = ChargeCurve.Of(samples);
        var columns = new List<(string Name, IEnumerable<decimal?> Values)> { ("time_s", samples[ChannelKey.Time]!.ToDecimals()) };
        void Add(string name, ChannelKey key)
        {
            if (samples[key] is { } channel)
            {
                columns.Add((name, channel.ToDecimals()));
            }
        }

        Add("current_a", ChannelKey.Current);
        Add("pack_v", ChannelKey.PackVoltage);
        for (int cell = 1; cell <= samples.CellCount; cell++)
        {
            Add($"cell{cell}_v", ChannelKey.Cell(cell));
        }

        // Six decimals of an ampere hour are finer than any logger's current.
        if (curve.AmpereHours is { } charge)
        {
            columns.Add(("charge_ah", charge.Select(value => double.IsFinite(value) ? (decimal?)Math.Round((decimal)value, 6) : null)));
        }

        Add("temp_c", ChannelKey.Temperature(1));
        return new DataSheet("last-charge", [.. columns.Select(column => column.Name)], Rows([.. columns.Select(column => column.Values)]));
    }

    private static IEnumerable<object?[]> Rows(IReadOnlyList<IEnumerable<decimal?>> columns)
    {
        List<IEnumerator<decimal?>> at = [.. columns.Select(column => column.GetEnumerator())];
        try
        {
            while (at.All(column => column.MoveNext()))
            {
                yield return [.. at.Select(column => (object?)column.Current)];
            }
        }
        finally
        {
            at.ForEach(column => column.Dispose());
        }
    }

    private static DataSheet Packs(IReadOnlyList<PackView> views) => new(
        "packs",
        [
            "pack", "cells", "parallel", "chemistry", "rated_ah", "standing", "assessed", "out_of_use_since",
            "rest_spread_millivolts", "rest_spread_at", "furthest_cell", "trend_cell", "imbalance_cause", "cause_cell", "spread_watch_limit_millivolts", "spread_retire_limit_millivolts",
            "resistance_cell", .. Named("resistance_ratio"), .. Named("lead_milliohm"), "resistance_reference_celsius", "resistance_lag_seconds", "resistance_watch_ratio", "resistance_act_ratio",
            .. Named("capacity_ah"), "capacity_reference_ah", .. Named("first_measured_ah"), "capacity_reference_is_rated", .. Named("health_percent"), "capacity_watch_percent", "capacity_act_percent",
            "full_threshold_volts_per_cell", "full_days_confirmed", "full_days_possible", "full_now_days", "full_now_confirmed", "extra_loss_percent_low", "extra_loss_percent_high",
            "sessions", "throughput_ah", "equivalent_full_cycles", .. Named("cycles_of_measured_capacity"), "first_record", "last_record",
        ],
        views.Select(view =>
        {
            PackAssessment a = view.Assessment;
            PackDetails details = a.Pack.Details;
            CellResistance? cell = view.ResistanceCell;
            return (object?[])
            [
                view.Label, details.Cells, details.Parallel, Name(details.Chemistry), details.RatedCapacity?.Value, Name(a.Standing), a.Assessed, a.Pack.Retirement?.At,
                a.Imbalance.RestSpreadMillivolts, a.Imbalance.Measured, view.FurthestCell, a.Imbalance.TrendCell, Name(a.Imbalance.Cause), a.Imbalance.CauseCell, SpreadLimit.Watch(a), SpreadLimit.Retire(a),
                cell?.Cell, .. Parts(cell?.Ratio), .. Parts(a.Resistance.LeadMilliohms), a.Resistance.ReferenceCelsius, a.Resistance.LagSeconds, a.Resistance.WatchRatio, a.Resistance.ActRatio,
                .. Parts(a.Capacity.LatestAh), a.Capacity.ReferenceAh, .. Parts(a.Capacity.FirstMeasuredAh), a.Capacity.ReferenceIsRated, .. Parts(a.Capacity.HealthPercent), a.Capacity.WatchPercent, a.Capacity.ActPercent,
                a.FullCharge.ThresholdVoltsPerCell, a.FullCharge.DaysConfirmed, a.FullCharge.DaysPossible, a.FullCharge.CurrentSpell?.Days, a.FullCharge.CurrentSpell?.Confirmed, a.FullCharge.ExtraLossPercentLow, a.FullCharge.ExtraLossPercentHigh,
                a.Usage.Sessions, a.Usage.ThroughputAh, a.Usage.EquivalentFullCycles, .. Parts(a.Usage.EstimatedCycles), a.Usage.First, a.Usage.Last,
            ];
        }));

    private static DataSheet Due(ReportInput input) => new(
        "due",
        ["pack", "urgency", "since", "code", "level", "cell", "text", "action"],
        input.Due.Select(item => (object?[])[item.PackLabel, Name(item.Urgency), item.Since, Name(item.Finding.Code), Name(item.Finding.Level), item.Finding.Cell, item.Finding.Text, item.Finding.Action]));

    private static DataSheet Findings(IReadOnlyList<PackView> views) => new(
        "findings",
        ["pack", "code", "level", "cell", "value", "unit", "low", "high", "count", "limit", "margin", "sessions", "text", "action"],
        views.SelectMany(view => view.Assessment.Findings.Select(f => (object?[])
            [view.Label, Name(f.Code), Name(f.Level), f.Cell, f.Value, f.Unit, f.Low, f.High, f.Count, f.Limit, f.Margin, string.Join(' ', f.Sessions), f.Text, f.Action])));

    private static DataSheet Deviations(IReadOnlyList<PackView> views) => new(
        "deviations",
        ["pack", "at", "session", "after_full_charge", "mean_cell_volts", "cell", "deviation_millivolts"],
        views.SelectMany(view => view.Assessment.Imbalance.Series.SelectMany(point => point.Millivolts.Select((value, at) => (object?[])
            [view.Label, point.At, point.SessionId, point.AfterFullCharge, point.MeanVolts, at + 1, value]))));

    private static DataSheet Resistances(IReadOnlyList<PackView> views) => new(
        "resistances",
        ["pack", "at", "session", "cell", .. Named("resistance_milliohm"), "lag_seconds", "from_instrument"],
        views.SelectMany(view => view.Assessment.Resistance.Series.Select(point => (object?[])
            [view.Label, point.At, point.SessionId, point.Cell, .. Parts(point.Milliohms), point.LagSeconds, point.FromInstrument])));

    private static DataSheet Capacities(IReadOnlyList<PackView> views) => new(
        "capacities",
        ["pack", "at", "session", .. Named("capacity_ah"), "complete"],
        views.SelectMany(view => view.Assessment.Capacity.Series.Select(point => (object?[])
            [view.Label, point.At, point.SessionId, .. Parts(point.AmpereHours), point.Complete])));

    private static DataSheet Trends(IReadOnlyList<PackView> views) => new(
        "trends",
        [
            "pack", "quantity", "unit", "cell", "origin", .. Named("intercept"), .. Named("slope_per_day"), "intercept_slope_covariance", "residual_degrees_of_freedom", "robust_slope_per_day",
            "readings", "readings_needed", "reason", .. Named("now"), .. Named("baseline"), .. Named("ratio"), .. Named("per_100_cycles"),
            "limit_state", "limit_expected", "limit_low", "limit_high", "limit_count", "limit_reason",
        ],
        views.SelectMany(TrendRows));

    private static IEnumerable<object?[]> TrendRows(PackView view)
    {
        PackAssessment a = view.Assessment;
        yield return [view.Label, "deviation", "mV", a.Imbalance.TrendCell, .. TrendParts(a.Imbalance.TrendMillivolts), .. Parts(null), .. Parts(null), .. Parts(null), .. Parts(null), .. LimitParts(null)];
        foreach (CellResistance cell in a.Resistance.Cells)
        {
            yield return [view.Label, "resistance", "mOhm", cell.Cell, .. TrendParts(cell.TrendMilliohms), .. Parts(cell.Milliohms), .. Parts(cell.BaselineMilliohms), .. Parts(cell.Ratio), .. Parts(cell.Per100CyclesMilliohms), .. LimitParts(cell.LimitReached)];
        }

        // Of capacity, the change in 100 cycles is in percent of the reference; the column's unit is that of the quantity.
        Estimate? perCycles = a.Capacity is { Per100CyclesPercent: { } percent, ReferenceAh: { } reference } ? Scaled(percent, reference / 100) : null;
        yield return [view.Label, "capacity", "Ah", null, .. TrendParts(a.Capacity.TrendAh), .. Parts(a.Capacity.LatestAh), .. Parts(null), .. Parts(null), .. Parts(perCycles), .. LimitParts(a.Capacity.LimitReached)];
    }

    private static Estimate Scaled(Estimate estimate, double factor) =>
        estimate with { Value = estimate.Value * factor, StandardError = estimate.StandardError * factor, Low = estimate.Low * factor, High = estimate.High * factor };

    private static DataSheet Days(IReadOnlyList<PackView> views) => new(
        "days",
        ["pack", "day", "state"],
        views.SelectMany(view => view.Assessment.Days.Select(day => (object?[])[view.Label, day.Day, Name(day.State)])));

    private static DataSheet Spells(IReadOnlyList<PackView> views) => new(
        "full-spells",
        ["pack", "from", "to", "days", "confirmed", "in_progress"],
        views.SelectMany(view => view.Assessment.FullCharge.Spells.Select(spell => (object?[])[view.Label, spell.From, spell.To, spell.Days, spell.Confirmed, spell.InProgress])));

    private static object?[] TrendParts(Trend trend) => trend switch
    {
        Trend.Fitted f => [f.Origin, .. Parts(f.Intercept), .. Parts(f.SlopePerDay), f.InterceptSlopeCovariance, f.ResidualDegreesOfFreedom, f.RobustSlopePerDay, f.SlopePerDay.Count, null, null],
        Trend.TooLittleData little => [null, .. Parts(null), .. Parts(null), null, null, null, little.Have, little.Need, little.Reason],
        _ => throw new ArgumentException("A trend is fitted or has too little data.", nameof(trend)),
    };

    private static object?[] LimitParts(LimitDate? limit) => limit switch
    {
        null => [null, null, null, null, null, null],
        LimitDate.Passed => ["passed", null, null, null, null, null],
        LimitDate.Ahead ahead => ["ahead", ahead.Expected, ahead.Low, ahead.High, ahead.Count, null],
        LimitDate.NotWithin none => [$"not-within-{none.Years.ToString(System.Globalization.CultureInfo.InvariantCulture)}-years", null, null, null, none.Count, null],
        LimitDate.TooLittleData little => ["too-little-data", null, null, null, null, little.Reason],
        _ => throw new ArgumentException("A limit date of no known kind.", nameof(limit)),
    };

    private static IEnumerable<string> Named(string name) => EstimateParts.Select(part => name + part);

    private static object?[] Parts(Estimate? estimate) => estimate is { } e
        ? [e.Value, e.StandardError, e.Low, e.High, e.Confidence, e.Count]
        : [null, null, null, null, null, null];

    // Names of values as the contract writes them: lower case, words joined by hyphens.
    private static string Name<T>(T value)
        where T : struct, Enum
    {
        string name = value.ToString();
        return value is Chemistry
            ? name.ToLowerInvariant()
            : string.Concat(name.Select((c, at) => char.IsUpper(c) ? (at > 0 ? "-" : "") + char.ToLowerInvariant(c) : c.ToString()));
    }
}
