using System.Globalization;
using PackCare.Report.Pages;

namespace PackCare.Report.Charts;

/// <summary>Chooses where an axis is marked.</summary>
internal static class Scale
{
    private static readonly DateTime Epoch = new(2000, 1, 1, 0, 0, 0, DateTimeKind.Unspecified);

    // Days in a month or year are nominal here: they only choose the step.
    private static readonly (double Days, int Months, int DayStep)[] DateSteps =
    [
        (1, 0, 1), (2, 0, 2), (7, 0, 7), (14, 0, 14), (30.4, 1, 0), (61, 2, 0), (91, 3, 0), (183, 6, 0), (365, 12, 0), (730, 24, 0), (1826, 60, 0),
    ];

    /// <summary>A date as a number of days, in the given offset.</summary>
    public static double Day(DateTimeOffset at, TimeSpan offset) => (at.ToOffset(offset).DateTime - Epoch).TotalDays;

    /// <summary>A calendar day as a number of days.</summary>
    public static double Day(DateOnly day) => (day.ToDateTime(TimeOnly.MinValue) - Epoch).TotalDays;

    /// <summary>Round figures; the uppermost carries the unit.</summary>
    public static IReadOnlyList<AxisMark> Figures(Span span, int most, string unit)
    {
        double step = NiceStep(span.Length / Math.Max(1, most));
        if (Math.Floor((span.High / step) + 1e-9) - Math.Ceiling((span.Low / step) - 1e-9) < 1)
        {
            // One mark alone gives no scale.
            step = NiceStep(step * 0.4);
        }

        int digits = Math.Max(0, -(int)Math.Floor(Math.Log10(step) + 1e-9));
        var marks = new List<AxisMark>();
        for (double at = Math.Ceiling((span.Low / step) - 1e-9) * step; at <= span.High + (step * 1e-9); at += step)
        {
            double round = Math.Round(at, digits);
            string figure = (round == 0 ? 0 : round).ToString("F" + digits, CultureInfo.InvariantCulture).Replace('-', '\u2212');
            marks.Add(new AxisMark(round, figure));
        }

        if (marks.Count > 0)
        {
            marks[^1] = marks[^1] with { Label = $"{marks[^1].Label} {unit}" };
        }

        return marks;
    }

    /// <summary>Dates: days, months or years, as many as fit.</summary>
    public static IReadOnlyList<AxisMark> Dates(Span days, int most, DateText dates)
    {
        DateTime low = Epoch.AddDays(days.Low);
        DateTime high = Epoch.AddDays(days.High);
        (_, int months, int dayStep) = DateSteps.FirstOrDefault(step => days.Length / step.Days <= most, DateSteps[^1]);
        var marks = new List<AxisMark>();
        if (months > 0)
        {
            int first = (low.Year * 12) + low.Month - 1;
            first += (months - (first % months)) % months;
            for (int month = first; month / 12 <= high.Year; month += months)
            {
                var at = new DateTime(month / 12, (month % 12) + 1, 1, 0, 0, 0, DateTimeKind.Unspecified);
                if (at >= low && at <= high)
                {
                    marks.Add(new AxisMark((at - Epoch).TotalDays, months % 12 == 0 ? at.Year.ToString(CultureInfo.InvariantCulture) : dates.Month(at)));
                }
            }

            return marks;
        }

        for (double at = Math.Ceiling(days.Low / dayStep) * dayStep; at <= days.High; at += dayStep)
        {
            // The first mark says the year for those that follow.
            DateTime day = Epoch.AddDays(at);
            marks.Add(new AxisMark(at, marks.Count == 0 ? dates.Day(DateOnly.FromDateTime(day)) : dates.DayOfYear(day)));
        }

        return marks;
    }

    private static double NiceStep(double least)
    {
        double power = Math.Pow(10, Math.Floor(Math.Log10(least)));
        double share = least / power;
        return power * (share <= 1 ? 1 : share <= 2 ? 2 : share <= 5 ? 5 : 10);
    }
}
