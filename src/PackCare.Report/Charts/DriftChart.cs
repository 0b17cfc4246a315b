using System.Globalization;
using PackCare.Analysis.Assessments;
using PackCare.Report.Look;
using PackCare.Report.Pages;

namespace PackCare.Report.Charts;

/// <summary>How far each cell stands from the pack's median at rest, over time.</summary>
internal static class DriftChart
{
    public static Chart Make(PackView view)
    {
        IReadOnlyList<DeviationPoint> all = view.Assessment.Imbalance.Series;
        return new Chart(
            "drift",
            "Which cell drifts?",
            Answer(view),
            all.Count == 0 ? null : HowToRead(view),
            all.Count == 0 ? [] : [new Panel(null, frame => Draw(view, frame))],
            Table(view));
    }

    private static string Answer(PackView view)
    {
        ImbalanceAssessment imbalance = view.Assessment.Imbalance;
        if (imbalance.Series.Count == 0)
        {
            return "Nothing to draw: no cell voltages at rest are on record. Log a charge with cell voltages, or enter a spot check.";
        }

        var sentences = new List<string>();
        if (imbalance is { CauseCell: { } odd, Cause: not (ImbalanceCause.None or ImbalanceCause.Undetermined) })
        {
            sentences.Add($"Cell {Number(odd)} stands out: {Why(imbalance.Cause)}.");
        }

        switch (imbalance.TrendMillivolts)
        {
            case Trend.Fitted fitted when imbalance.TrendCell is { } cell:
                double perMonth = fitted.SlopePerDay.Value * Wording.MonthDays;
                string interval = $"{Wording.Signed(perMonth)}\u00A0mV a month ({Wording.Signed(fitted.SlopePerDay.Low * Wording.MonthDays)} to {Wording.Signed(fitted.SlopePerDay.High * Wording.MonthDays)}; n\u00A0=\u00A0{Number(fitted.SlopePerDay.Count)})";
                bool certain = fitted.SlopePerDay.Low > 0 || fitted.SlopePerDay.High < 0;

                // Where the cells leak, the trend is that of rests after full charges, which the leak does not show in.
                string where = imbalance.Cause == ImbalanceCause.SelfDischarge ? " after full charges" : "";
                sentences.Add(view.Drifts ? $"Cell {Number(cell)} drifts {(perMonth < 0 ? "down" : "up")} against the others{where}, by {interval}."
                    : certain ? $"No drift that matters{where}: cell {Number(cell)} moves most, by {interval}."
                    : $"No drift{where} that can be told from none: cell {Number(cell)} moves most, by {interval}.");
                break;
            case Trend.TooLittleData little:
                sentences.Add(Wording.TooLittle(little));
                break;
        }

        string limit = $"the watch limit is {Wording.Figure(SpreadLimit.Watch(view.Assessment), 0)}\u00A0mV";
        if (view.LatestAfterFull is { Millivolts: { Count: > 0 } off } full)
        {
            sentences.Add($"After the last full charge, on {view.Date(full.At)}, the cells were {Wording.Millivolts(off.Max() - off.Min())} apart; {limit}.");
        }
        else if (imbalance.RestSpreadMillivolts is { } spread)
        {
            string at = imbalance.Measured is { } measured ? $", on {view.Date(measured)}," : "";
            sentences.Add($"At the latest rest{at} the cells were {Wording.Millivolts(spread)} apart; no rest after a full charge is on record, for which {limit}.");
        }

        return string.Join(' ', sentences);
    }

    private static string Why(ImbalanceCause cause) => cause switch
    {
        ImbalanceCause.ChargeOffset => "it holds another state of charge than the rest",
        ImbalanceCause.Capacity => "it holds less charge in all than the rest",
        ImbalanceCause.SelfDischarge => "it loses charge while at rest",
        ImbalanceCause.Resistance => "it has more resistance than the rest",
        _ => throw new ArgumentOutOfRangeException(nameof(cause)),
    };

    private static string Number(int number) => number.ToString(CultureInfo.InvariantCulture);

    private static string HowToRead(PackView view)
    {
        IReadOnlyList<DeviationPoint> all = view.Assessment.Imbalance.Series;
        List<DeviationPoint> aside = [.. all.Except(view.Comparable)];
        string focus = view.FocusCell is { } cell ? $" The heavy line is cell {Number(cell)}." : "";
        string other = "";
        if (aside.Count > 0)
        {
            string own = view.FocusCell is { } odd ? $", hollow for cell {Number(odd)}, grey for the others" : ", grey";
            Span y = Vertical(view);
            int outside = aside.SelectMany(point => point.Millivolts).Count(value => !y.Holds(value));
            bool between = view.Assessment.Imbalance.Cause == ImbalanceCause.SelfDischarge && !view.Comparable.Any(point => point.AfterFullCharge);
            string joined = between ? "between full charges, since each of those makes the cells level again"
                : view.Comparable.Any(point => point.AfterFullCharge) ? "after a full charge"
                : "at a like level";
            other = $" Lines join rests {joined}. Points by themselves{own}: rests at other levels, where cells differ for other reasons too{(outside > 0 ? $"; {Number(outside)} of them lie outside the picture" : "")}.";
            if (!view.Comparable.Any(point => point.AfterFullCharge))
            {
                other += " The limits are those for rests after a full charge.";
            }
        }

        return $"Each line is a cell; zero is the pack\u2019s median.{focus} A cell beyond the toothed lines passes the limit of the spread by itself.{other}";
    }

    // Near empty, cells stand apart by a hundred millivolts and more; that must not flatten all the rest.
    private static Span Vertical(PackView view)
    {
        double watch = SpreadLimit.Watch(view.Assessment);
        double most = Math.Max(view.Comparable.SelectMany(point => point.Millivolts).Select(Math.Abs).DefaultIfEmpty().Max(), watch);
        IEnumerable<double> own = view.FocusCell is { } cell
            ? view.Assessment.Imbalance.Series.Where(point => cell <= point.Millivolts.Count).Select(point => point.Millivolts[cell - 1]).Where(value => Math.Abs(value) <= most * 3)
            : [];
        return Span.Around(view.Comparable.SelectMany(point => point.Millivolts).Concat(own).Append(-watch).Append(watch))!.Value.Padded(0.12, 3);
    }

    private static Sheet Draw(PackView view, Frame frame)
    {
        IReadOnlyList<DeviationPoint> all = view.Assessment.Imbalance.Series;
        IReadOnlyList<DeviationPoint> main = view.Comparable;
        double watch = SpreadLimit.Watch(view.Assessment);
        Span x = Span.Around(all.Select(point => view.Day(point.At)))!.Value.Padded(0.02, 1);
        Span y = Vertical(view);
        var sheet = new Sheet(frame, 300, x, y, Sheet.LabelRoom);
        sheet.MarksX(Scale.Dates(x, frame.Size.IsNarrow ? 4 : 7, view.Dates));
        sheet.MarksY(Scale.Figures(y, 6, "mV"));
        sheet.Band([sheet.Full.Low, sheet.Full.High], [-watch, -watch], [watch, watch], Tones.Within, 1);
        sheet.Level(0);
        sheet.Limit(watch, pastIsAbove: true, strong: false, $"{Wording.Signed(watch, 0)} mV, watch");
        sheet.Limit(-watch, pastIsAbove: false, strong: false, $"{Wording.Signed(-watch, 0)} mV, watch");

        double retire = SpreadLimit.Retire(view.Assessment);
        sheet.Limit(retire, pastIsAbove: true, strong: true, $"{Wording.Signed(retire, 0)} mV, retire");
        sheet.Limit(-retire, pastIsAbove: false, strong: true, $"{Wording.Signed(-retire, 0)} mV, retire");

        int cells = main.Max(point => point.Millivolts.Count);
        int? focus = view.FocusCell;
        var labels = new List<EndLabel>();
        List<DeviationPoint> aside = [.. all.Except(main)];
        for (int cell = 1; cell <= cells && aside.Count > 0; cell++)
        {
            double[] at = [.. aside.Select(point => view.Day(point.At))];
            double[] off = [.. aside.Select(point => cell <= point.Millivolts.Count ? point.Millivolts[cell - 1] : double.NaN)];
            if (cell == focus)
            {
                sheet.Points(at, off, CellStyle.Of(cell).Mark, CellStyle.Of(cell).Tone, filled: false, 2.6f);
            }
            else
            {
                sheet.Points(at, off, Mark.Circle, Tones.Rule, filled: true, 1.2f);
            }
        }

        double[] xs = [.. main.Select(point => view.Day(point.At))];
        foreach (int cell in Enumerable.Range(1, cells).OrderBy(cell => cell == focus))
        {
            bool inFocus = cell == focus;
            CellStyle style = CellStyle.Of(cell);
            double[] ys = [.. main.Select(point => cell <= point.Millivolts.Count ? point.Millivolts[cell - 1] : double.NaN)];
            sheet.Line(xs, ys, style.Line(inFocus));
            if (xs.Length <= 60 || inFocus)
            {
                sheet.Points(xs, ys, style.Mark, style.Tone, inFocus, inFocus ? 3.6f : 2.4f);
            }

            int last = Array.FindLastIndex(ys, double.IsFinite);
            if (last >= 0)
            {
                labels.Add(new EndLabel(xs[last], ys[last], CellLabel(cell, inFocus), inFocus));
            }
        }

        sheet.EndLabels(labels);
        return sheet;
    }

    /// <summary>What stands at the end of a cell's line.</summary>
    internal static string CellLabel(int cell, bool inFocus) => (inFocus ? "cell " : "") + cell.ToString(CultureInfo.InvariantCulture);

    private static DataTable Table(PackView view)
    {
        IReadOnlyList<DeviationPoint> all = view.Assessment.Imbalance.Series;
        int cells = all.Count == 0 ? 0 : all.Max(point => point.Millivolts.Count);
        return new DataTable(
            ["Date", "After a full charge", "Mean cell (V)", .. Enumerable.Range(1, cells).Select(cell => $"Cell {cell.ToString(CultureInfo.InvariantCulture)} (mV)")],
            [.. all.Select(point => (IReadOnlyList<string>)
            [
                view.Moment(point.At),
                point.AfterFullCharge ? "yes" : "no",
                Wording.Figure(point.MeanVolts, 3),
                .. Enumerable.Range(0, cells).Select(cell => cell < point.Millivolts.Count ? Wording.Signed(point.Millivolts[cell], 0) : "not read"),
            ])]);
    }
}
