using System.Globalization;
using PackCare.Analysis.Assessments;
using PackCare.Report.Look;
using PackCare.Report.Pages;

namespace PackCare.Report.Charts;

/// <summary>
/// Where the pack was on every day: a row a month, and in it a column a day that is filled as the pack was. The height
/// tells full, part and storage apart, and hatching the possible from the confirmed, so that it needs no colour.
/// </summary>
internal static class DayChart
{
    /// <summary>More rows than this would not fit a sheet of paper; older months are in the table.</summary>
    internal const int MostMonths = 24;

    internal const string Name = "days";

    private const int RowHeight = 20;
    private static readonly int[] MarkedDays = [1, 5, 10, 15, 20, 25, 30];

    public static Chart Make(PackView view)
    {
        bool known = view.Assessment.Days.Any(day => day.State != DayState.Unknown);
        return new Chart(
            Name,
            "Where has it been?",
            Answer(view),
            known ? "A row is a month, a column a day; the fill is as high as the pack was charged. Hatched: last seen full, and nothing tells what came of it." : null,
            known ? [new Panel(null, frame => Draw(view, frame))] : [],
            Table(view));
    }

    private static string Answer(PackView view)
    {
        PackAssessment assessment = view.Assessment;
        if (!assessment.Days.Any(day => day.State != DayState.Unknown))
        {
            return "Nothing to draw: no record tells how charged the pack was on any day.";
        }

        FullChargeAssessment full = assessment.FullCharge;
        var sentences = new List<string>();
        string records = $"of {Wording.Count(assessment.Days.Count, "day", "days")} on record";
        string level = $"full ({Wording.Figure(full.ThresholdVoltsPerCell, 2)}\u00A0V a cell or more)";
        sentences.Add((full.DaysConfirmed, full.DaysPossible) switch
        {
            (0, 0) => $"It was not seen sitting {level} on any {records}.",
            (0, var possible) => $"It perhaps sat {level} for {Wording.Days(possible)} in all, {records}; none of it is confirmed.",
            (var confirmed, 0) => $"It sat {level} for {Wording.Days(confirmed)} in all, {records}.",
            var (confirmed, possible) when confirmed < 0.5 && possible < 0.5 => $"It sat {level} for less than a day in all, {records}.",
            var (confirmed, possible) => $"It sat {level} for {Wording.Days(confirmed)} in all, and perhaps {Wording.Days(possible)} more, {records}.",
        });
        if (full.Spells.Count > 0 && full.Spells.MaxBy(spell => spell.Days) is { Days: >= 0.5 } longest)
        {
            sentences.Add($"The longest spell was {Wording.Days(longest.Days)} from {view.Date(longest.From)}{(longest.Confirmed ? "" : " (not confirmed)")}.");
        }

        if (full.CurrentSpell is { } current)
        {
            sentences.Add(current.Confirmed ? $"It has been full for {Wording.Days(current.Days)} now." : $"It has perhaps been full for {Wording.Days(current.Days)} now.");
        }

        if (full is { ExtraLossPercentLow: { } low, ExtraLossPercentHigh: { } high })
        {
            string over = $" over {Wording.Count(full.Spells.Count, "spell", "spells")}";
            sentences.Add(high < 0.1
                ? $"Against storage level that is thought to have cost less than 0.1\u00A0% of capacity{over}."
                : $"Against storage level that is thought to have cost {Wording.Range(low, high, 1)}\u00A0% of capacity{over}; the two published sources disagree.");
        }

        int unknown = assessment.Days.Count(day => day.State == DayState.Unknown);
        if (unknown > 0)
        {
            sentences.Add($"Of {Wording.Count(unknown, "day", "days")} nothing is known.");
        }

        return string.Join(' ', sentences);
    }

    private static Sheet Draw(PackView view, Frame frame)
    {
        List<IGrouping<int, PackDay>> months = [.. view.Assessment.Days.GroupBy(day => (day.Day.Year * 12) + day.Day.Month - 1).OrderBy(month => month.Key).TakeLast(MostMonths)];
        int rows = months.Count;
        var y = new Span(0, rows);
        var sheet = new Sheet(frame, (rows * RowHeight) + 40, new Span(0.5, 31.5), y);
        sheet.HideGrid();
        sheet.MarksX([.. MarkedDays.Select(day => new AxisMark(day, day.ToString(CultureInfo.InvariantCulture)))]);
        sheet.MarksY([.. months.Select((month, row) => new AxisMark(rows - row - 0.5, view.Dates.Month(new DateTime(month.Key / 12, (month.Key % 12) + 1, 1, 0, 0, 0, DateTimeKind.Unspecified))))]);
        sheet.Draw(pen =>
        {
            for (int row = 0; row < rows; row++)
            {
                DrawMonth(pen, months[row], rows - row - 1);
            }
        });
        return sheet;
    }

    private static void DrawMonth(Pen pen, IEnumerable<PackDay> days, int row)
    {
        float bottom = pen.Y(row) - 3;
        float height = pen.Y(row) - pen.Y(row + 1) - 5;
        PackDay[] sorted = [.. days.OrderBy(day => day.Day)];
        float left = pen.X(sorted[0].Day.Day - 0.5);
        float right = pen.X(sorted[^1].Day.Day + 0.5);
        pen.Line(left, bottom + 0.5f, right, bottom + 0.5f, new Stroke(Tones.Rule, 1));
        for (int from = 0; from < sorted.Length;)
        {
            int to = from;
            while (to + 1 < sorted.Length && sorted[to + 1].State == sorted[from].State)
            {
                to++;
            }

            DrawRun(pen, sorted[from].State, pen.X(sorted[from].Day.Day - 0.5) + 0.5f, pen.X(sorted[to].Day.Day + 0.5) - 0.5f, bottom, height, to - from + 1);
            from = to + 1;
        }
    }

    private static void DrawRun(Pen pen, DayState state, float left, float right, float bottom, float height, int days)
    {
        switch (state)
        {
            case DayState.Full:
                Block(pen, left, right, bottom, height, Tones.Vermillion);
                break;
            case DayState.PossiblyFull:
                Hatched(pen, left, right, bottom, height);
                break;
            case DayState.Part:
                Block(pen, left, right, bottom, height * 0.6f, Tones.Purple);
                break;
            case DayState.Storage:
                Block(pen, left, right, bottom, height * 0.3f, Tones.Green);
                break;
            case DayState.InUse:
                var dots = new Trace();
                float step = (right - left + 1) / days;
                for (int day = 0; day < days; day++)
                {
                    dots.Circle(left - 0.5f + (step * (day + 0.5f)), bottom - (height * 0.5f), Math.Min(3.6f, step * 0.34f));
                }

                pen.Fill(dots, Tones.Blue);
                break;
        }
    }

    private static void Block(Pen pen, float left, float right, float bottom, float height, Tone tone)
    {
        var path = new Trace();
        path.Rect(left, bottom - height, right, bottom);
        pen.Fill(path, tone);
    }

    private static void Hatched(Pen pen, float left, float right, float bottom, float height)
    {
        var path = new Trace();
        path.Rect(left + 0.5f, bottom - height + 0.5f, right - 0.5f, bottom - 0.5f);
        float top = bottom - height;
        for (float x = left - height + 4; x < right; x += 5)
        {
            // A stroke from the lower left to the upper right, cut at the sides of the block.
            float fromX = Math.Max(left, x);
            float toX = Math.Min(right, x + height);
            if (toX > fromX)
            {
                path.MoveTo(fromX, bottom - (fromX - x));
                path.LineTo(toX, Math.Max(top, bottom - (toX - x)));
            }
        }

        pen.Draw(path, new Stroke(Tones.Vermillion, 1));
    }

    private static DataTable Table(PackView view)
    {
        var rows = new List<IReadOnlyList<string>>();
        IReadOnlyList<PackDay> days = view.Assessment.Days;
        for (int from = 0; from < days.Count;)
        {
            int to = from;
            while (to + 1 < days.Count && days[to + 1].State == days[from].State)
            {
                to++;
            }

            rows.Add([view.Dates.Day(days[from].Day), view.Dates.Day(days[to].Day), (to - from + 1).ToString(CultureInfo.InvariantCulture), Wording.Word(days[from].State)]);
            from = to + 1;
        }

        return new DataTable(["From", "To", "Days", "State"], rows, "Days are in UTC; a day counts as the state that held for most of it.");
    }
}
