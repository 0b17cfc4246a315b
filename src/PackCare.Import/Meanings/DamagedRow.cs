using System.Globalization;
using PackCare.Core.Reading;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>
/// Finds the row that a refusal of a whole log may come from: one damaged value takes the proof of a column along, and the log is
/// then refused for what it no longer proves.
/// </summary>
internal static class DamagedRow
{
    private const int FewestRows = 8;
    private const double Jump = 3;

    private static readonly HashSet<string> Whole =
    [
        "no-time", "no-voltages", "unexplained-cell", "ambiguous-cells", "ambiguous-current", "ambiguous-time", "ambiguous-time-unit", "ambiguous-unit", "unit-unclear",
        "direction-unclear", "pack-not-sum", "charge-disagrees", "voltage-range",
    ];

    /// <summary>The result, with its refusal at the damaged row where the log as a whole was refused and a row stands out.</summary>
    /// <param name="result">What came of the log.</param>
    /// <param name="table">The log as written.</param>
    internal static ReadResult PointAt(ReadResult result, RawTable table)
    {
        List<InputProblem> problems = [.. result.Problems];
        int at = problems.FindIndex(problem => problem.Level == ProblemLevel.Refusal);
        if (at < 0 || table.Rows < FewestRows || !Whole.Contains(problems[at].Code) || (problems[at].Line is int line && line != table.LineOf(0)))
        {
            return result;
        }

        double[]?[] values = [.. table.Columns.Select(column => column.Shape == ColumnShape.Number && column.Values.Count > 0 ? Numbers(column) : null)];
        (int Row, int Column)? first = null;
        for (int c = 0; c < values.Length; c++)
        {
            if (values[c] is { } column && OddRow(column, values, IsCurrent(table.Columns[c]), problems[at].Code == "direction-unclear") is int row && (first is null || row < first.Value.Row))
            {
                first = (row, c);
            }
        }

        if (first is not (int odd, int position))
        {
            return result;
        }

        RawColumn found = table.Columns[position];
        double[] its = values[position]!;
        int beside = odd == 0 ? Array.FindIndex(its, 1, double.IsFinite) : Array.FindLastIndex(its, odd - 1, double.IsFinite);
        if (beside < 0)
        {
            return result;
        }

        InputProblem refusal = problems[at];
        problems[at] = refusal with
        {
            Line = table.LineOf(odd),
            Column = found.Index + 1,
            Found = string.Create(CultureInfo.InvariantCulture, $"a value that stands out, {its[odd]:0.######} {(odd == 0 ? "before" : "after")} {its[beside]:0.######}; with it {refusal.Found}"),
            Advice = $"correct that line if it is damaged; if not, {refusal.Advice}",
        };
        return result with { Problems = problems };
    }

    private static bool IsCurrent(RawColumn column) => HeaderWords.Read(column.Header, column.UnitField).Quantity is Quantity.Current or Quantity.Power;

    private static double[] Numbers(RawColumn column)
    {
        var values = new double[column.Values[0].Count];
        LogColumns.Read(column.Values[0], 1, values);
        return values;
    }

    // A pause has nothing to do with the direction of a current, and a current leaps where it sets in.
    private static int? OddRow(double[] values, double[]?[] all, bool isCurrent, bool isDirection) =>
        OutOfOrder(values, isDirection) ?? (isCurrent ? null : Leap(values, all)) ?? FarBeyond(values) ?? OtherSign(values);

    // A column that rises with nearly every row falls once or twice: the row that is too high or too low.
    private static int? OutOfOrder(double[] values, bool isDirection)
    {
        int rises = 0;
        int falls = 0;
        int first = -1;
        for (int i = 1; i < values.Length; i++)
        {
            rises += values[i] > values[i - 1] ? 1 : 0;
            if (values[i] < values[i - 1] && falls++ == 0)
            {
                first = i;
            }
        }

        if (falls == 0 && rises == values.Length - 1 && IsEven(values))
        {
            double usual = Usual(values);
            int[] far = [.. Enumerable.Range(1, values.Length - 1).Where(i => values[i] - values[i - 1] > 50 * usual).Take(2)];
            return far.Length == 1 && !isDirection ? far[0] : null;
        }

        bool isTime = falls is 1 or 2 && rises >= 0.85 * (values.Length - 1) && rises + falls >= values.Length - 2 && IsEven(values);
        if (!isTime)
        {
            return null;
        }

        // Without the damaged row the others are in order.
        double step = Usual(values);
        bool tooHigh = first >= 2 && values[first] > values[first - 2] && values[first - 1] - values[first - 2] > 1.5 * step;
        bool tooLow = first + 1 >= values.Length || values[first + 1] > values[first - 1];
        return tooHigh ? first - 1 : tooLow ? first : null;
    }

    // Most steps alike, as those of a clock are and those of a voltage are not.
    private static bool IsEven(double[] values)
    {
        double usual = Usual(values);
        return Enumerable.Range(1, values.Length - 1).Count(i => Math.Abs(values[i] - values[i - 1] - usual) <= 0.02 * usual) >= 0.6 * (values.Length - 1);
    }

    private static double Usual(double[] values)
    {
        double[] steps = [.. Enumerable.Range(1, values.Length - 1).Select(i => values[i] - values[i - 1]).Where(step => !double.IsNaN(step)).Order()];
        return steps.Length == 0 ? double.NaN : steps[steps.Length / 2];
    }

    // A column that changes by little from row to row changes threefold, or goes to nothing while one like it does not.
    private static int? Leap(double[] values, double[]?[] all)
    {
        int smooth = 0;
        int leaps = 0;
        int first = -1;
        for (int i = 1; i < values.Length; i++)
        {
            double ratio = values[i] / values[i - 1];
            smooth += ratio is > 0.93 and < 1.07 || values[i] == values[i - 1] ? 1 : 0;
            bool leap = ratio is >= Jump or (<= 1 / Jump and > 0) && values[i - 1] != 0;
            leap |= values[i] <= 0 && values[i - 1] > 0.5 && all.Any(other => other != values && Beside(other, values[i - 1], i - 1));
            if (leap && leaps++ == 0)
            {
                first = i;
            }
        }

        // Where the second row leaps and the third does not, the first row is the odd one.
        return leaps is 1 or 2 && smooth >= 0.9 * (values.Length - 1) - 2 && values[0] > 0 ? leaps == 1 && first == 1 ? 0 : first : null;
    }

    private static bool Beside(double[]? other, double value, int row) => other is not null && row + 1 < other.Length && Math.Abs(other[row] - value) < 0.2 * value && Math.Abs(other[row + 1] - value) < 0.2 * value;

    private static int? FarBeyond(double[] values)
    {
        int largest = 0;
        double next = 0;
        for (int i = 1; i < values.Length; i++)
        {
            if (Math.Abs(values[i]) > Math.Abs(values[largest]))
            {
                next = Math.Abs(values[largest]);
                largest = i;
            }
            else if (Math.Abs(values[i]) > next)
            {
                next = Math.Abs(values[i]);
            }
        }

        return next > 0 && Math.Abs(values[largest]) > 50 * next ? largest : null;
    }

    private static int? OtherSign(double[] values)
    {
        int positive = values.Count(value => value > 0);
        int negative = values.Count(value => value < 0);
        return Math.Min(positive, negative) == 1 && Math.Max(positive, negative) >= FewestRows ? Array.FindIndex(values, value => positive == 1 ? value > 0 : value < 0) : null;
    }
}
