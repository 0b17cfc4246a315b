using PackCare.Analysis.Assessments;
using PackCare.Analysis.Wording;

namespace PackCare.Analysis.Reasons;

/// <summary>What is open, and which reading would settle it.</summary>
internal static class OpenQuestions
{
    /// <summary>The paragraphs.</summary>
    public static IEnumerable<string> Of(PackAssessment assessment)
    {
        if (assessment.Capacity.Series.Count > 0 && !assessment.Capacity.Series.Any(point => point.Complete))
        {
            yield return "Open: the capacity itself, known only from parts of the charge. One logged discharge from full to the maker's lower limit, with a rest at both ends, would narrow it most.";
        }

        if (assessment.Resistance.Series.Count == 0)
        {
            yield return "Open: resistance. Log at 1 to 5 s with cell voltages through at least one sudden change of current, for instance the start of a charge or a load being switched.";
        }
        else if (assessment.Resistance.Cells.Any(cell => cell.Ratio is { } ratio && ratio.Low < assessment.Resistance.WatchRatio && ratio.High > assessment.Resistance.WatchRatio))
        {
            yield return $"Open: whether resistance is past {Say.Number(assessment.Resistance.WatchRatio, "0.##")} times its baseline; the interval holds both. Further sessions at room temperature with clear current steps narrow it.";
        }

        if (assessment.FullCharge is { DaysPossible: > 2 } full && full.DaysPossible > full.DaysConfirmed)
        {
            yield return "Open: how long it really sat full. Logging runs, or a spot check before each use, would tell.";
        }

        if (assessment.Imbalance.Cause == ImbalanceCause.None && assessment.Imbalance.TrendMillivolts is Trend.TooLittleData few)
        {
            yield return $"Open: whether the cells drift: {few.Reason}.";
        }
    }
}
