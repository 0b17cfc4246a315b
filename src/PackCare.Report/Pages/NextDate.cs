using System.Globalization;
using PackCare.Analysis.Assessments;
using PackCare.Report.Charts;

namespace PackCare.Report.Pages;

/// <summary>The next date to keep in mind for a pack: the first limit that one of its trends reaches.</summary>
internal static class NextDate
{
    /// <summary>The date and what happens then; a sentence why there is none.</summary>
    public static (string Date, string What) Of(PackView view)
    {
        PackAssessment assessment = view.Assessment;
        if (assessment.Pack.Retirement is { } retirement)
        {
            return ("out of use", $"since {view.Date(retirement.At)}");
        }

        var dates = new List<(LimitDate Limit, string What)> { (assessment.Capacity.LimitReached, $"capacity reaches {Wording.Figure(assessment.Capacity.ActPercent, 0)}\u00A0%") };
        dates.AddRange(assessment.Resistance.Cells.Select(cell => (cell.LimitReached, $"resistance of cell {cell.Cell.ToString(CultureInfo.InvariantCulture)} reaches {Wording.Figure(assessment.Resistance.ActRatio, 1)} times its baseline")));
        if (dates.FirstOrDefault(date => date.Limit is LimitDate.Passed) is { What: { } passed })
        {
            return ("passed", passed.Replace("reaches", "has reached", StringComparison.Ordinal));
        }

        List<(LimitDate.Ahead Ahead, string What)> ahead = [.. dates.Where(date => date.Limit is LimitDate.Ahead).Select(date => ((LimitDate.Ahead)date.Limit, date.What)).OrderBy(date => date.Item1.Expected)];
        if (ahead.Count > 0)
        {
            (LimitDate.Ahead first, string what) = ahead[0];
            string range = first.High is { } high ? $"between {view.Dates.Coarse(first.Low, first.Expected, view.Now)} and {view.Dates.Coarse(high, first.Expected, view.Now)}" : $"not before {view.Dates.Coarse(first.Low, first.Expected, view.Now)}";
            return ($"around {view.Dates.Coarse(first.Expected, first.Expected, view.Now)}", $"{what} ({range}; n\u00A0=\u00A0{first.Count.ToString(CultureInfo.InvariantCulture)})");
        }

        return dates.Select(date => date.Limit).OfType<LimitDate.NotWithin>().FirstOrDefault() is { } none
            ? ($"none within {Wording.Count(none.Years, "year", "years")}", $"as far as the trends tell; n\u00A0=\u00A0{dates.Select(date => date.Limit).OfType<LimitDate.NotWithin>().Min(date => date.Count).ToString(CultureInfo.InvariantCulture)}{(dates.Any(date => date.Limit is LimitDate.NotWithin other && other.Count != none.Count) ? " or more" : "")}")
            : ("cannot be told yet", "");
    }
}
