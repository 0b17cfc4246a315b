using PackCare.Analysis.Assessments;
using PackCare.Analysis.Resistance;
using PackCare.Analysis.Trends;

namespace PackCare.Analysis.Standings;

/// <summary>Findings about what is not known of a pack.</summary>
internal static class CareFindings
{
    /// <summary>How many sessions with cells it takes before a pack may be called sound.</summary>
    public const int JudgedSessions = 5;

    /// <summary>The findings.</summary>
    public static IEnumerable<Finding> Of(Evidence evidence)
    {
        int sessions = evidence.Record.Sessions.Count(session => session.Summary.Cells.Count == evidence.Record.Cells);
        var missing = new List<string>();
        if (evidence.Resistance.Cells.All(cell => cell.Ratio is null))
        {
            int have = ResistanceJudge.Judged(evidence.Resistance).Count(point => point.Cell == 1);
            missing.Add($"resistance ({have} of {ResistanceJudge.RatioSessions} sessions with a current step)");
        }

        if (evidence.Capacity.Series.Count < WearFindings.CapacitySessions)
        {
            missing.Add($"capacity ({evidence.Capacity.Series.Count} of {WearFindings.CapacitySessions} sessions that move a quarter of the charge or more between two rests)");
        }
        else if (evidence.Capacity.TrendAh is Trend.TooLittleData few)
        {
            missing.Add($"how capacity changes ({few.Have} of {TrendLine.Needed} sessions)");
        }

        if (sessions >= JudgedSessions && missing.Count == 0)
        {
            yield break;
        }

        if (sessions < JudgedSessions)
        {
            missing.Insert(0, $"the pack as a whole ({sessions} of {JudgedSessions} sessions with cell voltages)");
        }

        yield return new Finding(
            FindingCode.TooLittleData, FindingLevel.Note, null, sessions, "sessions", null, null, JudgedSessions, sessions - JudgedSessions, [],
            $"Too little is on record to judge {string.Join(", ", missing)}.",
            "Log further charges from a low level to the end, with cell voltages, current and temperature, and a minute of rest at both ends.",
            DueUrgency.Plan);
    }
}
