using System.Globalization;
using PackCare.Analysis.Assessments;
using PackCare.Report.Charts;

namespace PackCare.Report.Pages;

/// <summary>The figures that sum a pack up, each as a short text and a longer one; where there is none, the text says so.</summary>
internal static class PackFigures
{
    public static (string Short, string Long) RestSpread(PackView view)
    {
        ImbalanceAssessment imbalance = view.Assessment.Imbalance;
        if (imbalance.RestSpreadMillivolts is not { } spread)
        {
            return ("not known", "no cell voltages at rest");
        }

        // The limit is for rests after a full charge; at other levels cells differ for other reasons too.
        string full = view.LatestAfterFull is { Millivolts: { Count: > 0 } off } after && after.At != imbalance.Measured
            ? $"; {Wording.Millivolts(off.Max() - off.Min())} after the last full charge"
            : "";
        return (Wording.Millivolts(spread), (imbalance.Measured is { } at ? view.Date(at) : "") + full);
    }

    public static (string Short, string Long) WorstCell(PackView view)
    {
        ImbalanceAssessment imbalance = view.Assessment.Imbalance;
        if (imbalance.RestSpreadMillivolts is null || view.FurthestCell is not { } cell)
        {
            return imbalance.RestSpreadMillivolts is null ? ("not known", "") : ("none stands out", "");
        }

        string now = cell <= imbalance.DeviationMillivolts.Count ? $"{Wording.Signed(imbalance.DeviationMillivolts[cell - 1], 0)}\u00A0mV from the median" : "";
        return ($"cell\u00A0{cell.ToString(CultureInfo.InvariantCulture)}", now);
    }

    public static (string Short, string Long) Resistance(PackView view)
    {
        if (view.ResistanceCell is not { } cell)
        {
            return ("not known", "no resistance could be found");
        }

        string name = $"cell\u00A0{cell.Cell.ToString(CultureInfo.InvariantCulture)}";
        if (cell.Ratio is { } ratio)
        {
            return ($"{Wording.Figure(ratio.Value, 2)}\u00A0\u00D7", $"{Wording.Range(ratio.Low, ratio.High, 2)}; {name}; n\u00A0=\u00A0{ratio.Count.ToString(CultureInfo.InvariantCulture)}");
        }

        return cell.TrendMilliohms is Trend.TooLittleData little
            ? ("no ratio yet", $"{little.Have.ToString(CultureInfo.InvariantCulture)} of {little.Need.ToString(CultureInfo.InvariantCulture)} readings")
            : ("no ratio yet", "no baseline");
    }

    public static (string Short, string Long) Capacity(PackView view)
    {
        CapacityAssessment capacity = view.Assessment.Capacity;
        if (capacity.HealthPercent is { } health)
        {
            return ($"{Wording.Figure(health.Value, 0)}\u00A0%", $"{Wording.Range(health.Low, health.High, 0)}\u00A0%; n\u00A0=\u00A0{health.Count.ToString(CultureInfo.InvariantCulture)}");
        }

        if (capacity.LatestAh is { } latest)
        {
            return ($"{Wording.Figure(latest.Value, 2)}\u00A0Ah", $"{Wording.Range(latest.Low, latest.High, 2)}\u00A0Ah; n\u00A0=\u00A0{latest.Count.ToString(CultureInfo.InvariantCulture)}; nothing to hold it against");
        }

        return capacity.TrendAh is Trend.TooLittleData little
            ? ("not known", $"{little.Have.ToString(CultureInfo.InvariantCulture)} of {little.Need.ToString(CultureInfo.InvariantCulture)} sessions that show it")
            : ("not known", "no session shows it");
    }

    public static (string Short, string Long) FullNow(PackView view)
    {
        FullChargeAssessment full = view.Assessment.FullCharge;
        if (full.CurrentSpell is { } spell)
        {
            return (Wording.Days(spell.Days), spell.Confirmed ? "confirmed" : "possibly; nothing tells since");
        }

        PackDay? today = view.Assessment.Days.Count > 0 ? view.Assessment.Days[^1] : null;
        return today is null || today.State == DayState.Unknown
            ? ("not known", "nothing tells how charged it is")
            : ("not full", today.State == DayState.InUse ? "used today" : $"last known: {Wording.Word(today.State)}");
    }

    public static (string Short, string Long) Usage(PackView view)
    {
        UsageAssessment usage = view.Assessment.Usage;
        string cycles = usage.EstimatedCycles is { } estimate ? $"{Wording.Interval(estimate, 1)} full cycles of the measured capacity" : usage.EquivalentFullCycles is { } full ? $"{Wording.Figure(full, full < 10 ? 1 : 0)} equivalent full cycles" : "cycles not known: no current was logged";
        return (Wording.Count(usage.Sessions, "session", "sessions"), cycles);
    }

    /// <summary>What cannot be told about a pack, a phrase each; empty where all can.</summary>
    public static IReadOnlyList<string> Unknowns(PackView view)
    {
        PackAssessment assessment = view.Assessment;
        var unknowns = new List<string>();
        if (assessment.Imbalance.RestSpreadMillivolts is null)
        {
            unknowns.Add("how level its cells are (no cell voltages at rest)");
        }
        else if (assessment.Imbalance.TrendMillivolts is Trend.TooLittleData drift)
        {
            unknowns.Add($"whether a cell drifts ({Have(drift)} readings)");
        }

        if (assessment.Resistance.Cells.All(cell => cell.Ratio is null))
        {
            unknowns.Add(assessment.Resistance.Cells.Select(cell => cell.TrendMilliohms).OfType<Trend.TooLittleData>().FirstOrDefault() is { } little
                ? $"whether its resistance rises ({Have(little)} readings)"
                : "whether its resistance rises (no baseline)");
        }

        if (assessment.Capacity.LatestAh is null)
        {
            unknowns.Add(assessment.Capacity.TrendAh is Trend.TooLittleData little
                ? $"how much it holds ({Have(little)} sessions that show it)"
                : "how much it holds (no session shows it)");
        }

        int days = assessment.Days.Count;
        int unknownDays = assessment.Days.Count(day => day.State == DayState.Unknown);
        if (days == 0)
        {
            unknowns.Add("where it has been (nothing on record)");
        }
        else if (unknownDays * 4 > days)
        {
            unknowns.Add($"where it was on {Wording.Figure(100.0 * unknownDays / days, 0)}\u00A0% of days");
        }

        return unknowns;
    }

    private static string Have(Trend.TooLittleData little) => $"{little.Have.ToString(CultureInfo.InvariantCulture)} of {little.Need.ToString(CultureInfo.InvariantCulture)}";
}
