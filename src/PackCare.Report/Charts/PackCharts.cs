namespace PackCare.Report.Charts;

/// <summary>All charts of a pack.</summary>
internal static class PackCharts
{
    /// <summary>Makes them, in the order in which a page shows them.</summary>
    public static IReadOnlyList<Chart> Of(PackView view)
    {
        ChargeCurve? curve = view.Pack.LastChargeSamples is { Count: > 0 } samples ? ChargeCurve.Of(samples) : null;
        Chart[] charts =
        [
            DriftChart.Make(view),
            ResistanceChart.Make(view),
            CapacityChart.Make(view),
            DayChart.Make(view),
            LastChargeChart.Make(view, curve),
            CurveChart.Make(view, curve),
        ];

        // Sentences of the analysis have ISO dates in them.
        return
        [
            .. charts.Select(chart => chart with
            {
                Answer = view.Dates.Restate(chart.Answer),
                Evidence = [.. chart.Evidence.Select(view.Dates.Restate)],
            }),
        ];
    }
}
