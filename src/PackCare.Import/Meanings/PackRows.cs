using PackCare.Core.Samples;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>Finds the label of rows that give the voltage of the whole pack, in a table with one row a cell and moment.</summary>
internal static class PackRows
{
    private const double Slack = 0.05;

    /// <summary>The value of the label column for rows of the pack; null where there are none, or nothing proves them.</summary>
    /// <param name="columns">The columns.</param>
    /// <param name="label">The column that names the cell of each row.</param>
    /// <param name="voltage">The column that may be the voltage.</param>
    internal static long? LabelOf(LogColumns columns, ColumnRole label, ColumnRole voltage)
    {
        var means = new Dictionary<long, (double Sum, int Count)>();
        long[] labels = new long[Channel.BlockRows];
        for (int b = 0; b < label.Column.Values.Count; b++)
        {
            BlockCodec.Decode(label.Column.Values[b], labels);
            double[] volts = LogColumns.Values(voltage, b, 1);
            for (int i = 0; i < volts.Length; i++)
            {
                if (labels[i] != BlockCodec.Missing && !double.IsNaN(volts[i]))
                {
                    (double sum, int count) = means.GetValueOrDefault(labels[i]);
                    means[labels[i]] = (sum + volts[i], count + 1);
                }
            }
        }

        // By a word for it, or by nought where the cells are numbered from 1.
        List<long> named = [.. means.Keys.Where(id => label.Column.Shape == ColumnShape.Text && IsPackWord(label.Column.Words[(int)id]))];
        if (named.Count == 0)
        {
            named = [.. means.Keys.Where(id => label.Column.Shape == ColumnShape.Text ? label.Column.Words[(int)id].Trim() == "0" : id == 0)];
        }

        if (named.Count != 1 || means.Count < (label.Column.Shape == ColumnShape.Text ? 2 : 3))
        {
            return null;
        }

        if (AddUp(label, voltage, named[0]))
        {
            return named[0];
        }

        double pack = means[named[0]].Sum / means[named[0]].Count;
        List<int> counts = [.. means.Where(mean => mean.Key != named[0]).Select(mean => mean.Value.Count).Order()];
        double[] cells = [.. means.Where(mean => mean.Key != named[0] && mean.Value.Count * 10 >= counts[^1]).Select(mean => mean.Value.Sum / mean.Value.Count)];
        return Math.Abs(pack - cells.Sum()) <= Slack * pack ? named[0] : null;
    }

    // Whether most rows of the pack are the sum of the cells that stand before them, or after them, up to the next: packs may differ in cells.
    private static bool AddUp(ColumnRole label, ColumnRole voltage, long pack)
    {
        long[] labels = new long[Channel.BlockRows];
        BlockCodec.Decode(label.Column.Values[0], labels);
        double[] volts = LogColumns.Values(voltage, 0, 1);
        int packs = 0;
        int before = 0;
        int after = 0;
        double sum = 0;
        double last = double.NaN;
        for (int i = 0; i <= volts.Length; i++)
        {
            if (i < volts.Length && labels[i] != pack)
            {
                sum += double.IsNaN(volts[i]) ? 0 : volts[i];
                continue;
            }

            after += Math.Abs(sum - last) <= Slack * last ? 1 : 0;
            if (i < volts.Length)
            {
                packs++;
                before += Math.Abs(sum - volts[i]) <= Slack * volts[i] ? 1 : 0;
                (sum, last) = (0, volts[i]);
            }
        }

        return packs > 1 && Math.Max(before, after) * 10 >= packs * 9;
    }

    /// <summary>Whether a label says that its row is of the whole pack.</summary>
    internal static bool IsPackWord(string word) => CellLabels.NumberIn(word) < 0 && HeaderWords.Read(word, null) is { IsPack: true, IsCell: false };
}
