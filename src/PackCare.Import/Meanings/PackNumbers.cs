using PackCare.Core.Reading;

namespace PackCare.Import.Meanings;

/// <summary>
/// Tells numbers of packs from a state of charge or an alarm under the same word: where another pack's rows begin, time begins anew, leaps, or
/// the cells jump.
/// </summary>
internal static class PackNumbers
{
    private const double LeastJump = 0.015;
    private const double Leap = 5;
    private const int FewRows = 2;
    private const int LeastSteps = 4;

    /// <summary>Leaves a column out that names packs by its header and by nothing else.</summary>
    internal static void Check(LogColumns columns, ColumnRole time)
    {
        ColumnRole? label = columns.Single(ColumnMeaning.PackLabel);
        ColumnRole? cell = columns.Cells.FirstOrDefault() ?? columns.Single(ColumnMeaning.PackVoltage);
        if (label is not { Column.Shape: Tables.ColumnShape.Number, Hint.IsGuided: false, Profile.IsConstant: false } || cell is null)
        {
            return;
        }

        double[] numbers = LogColumns.Values(label, 0, 1);
        double[] volts = cell.FirstValues;
        double[] seconds = LogColumns.Values(time, 0, 1, numbers.Length);
        var steps = new List<double>();
        int changes = 0;
        int jumps = 0;
        for (int i = 1; i < numbers.Length; i++)
        {
            if (numbers[i] == numbers[i - 1])
            {
                steps.Add(seconds[i] - seconds[i - 1]);
            }
        }

        double usual = steps.Count == 0 ? 0 : Selection.At([.. steps], steps.Count / 2);
        for (int i = 1; i < numbers.Length; i++)
        {
            if (numbers[i] != numbers[i - 1])
            {
                double step = seconds[i] - seconds[i - 1];
                changes++;
                jumps += !(step > 0) || step > Leap * usual || Math.Abs(volts[i] - volts[i - 1]) > LeastJump ? 1 : 0;
            }
        }

        // A number in a row or two is a damaged one.
        bool isDamage = numbers.Where(double.IsFinite).GroupBy(number => number).Min(group => group.Count()) <= FewRows && numbers.Distinct().Count() == 2;
        // A state of charge goes on by single steps, one way for the most part.
        int ups = Enumerable.Range(1, numbers.Length - 1).Count(i => numbers[i] - numbers[i - 1] == 1);
        int downs = Enumerable.Range(1, numbers.Length - 1).Count(i => numbers[i] - numbers[i - 1] == -1);
        bool countsOn = changes >= LeastSteps && ups + downs > 0.9 * changes && Math.Max(ups, downs) > 0.8 * changes;
        if (countsOn && jumps * 2 < changes && !isDamage)
        {
            label.Take(ColumnMeaning.Ignored, Unit.None, null, "its numbers change while time and cells go on: a state, and no number of a pack; left out");
        }
    }
}
