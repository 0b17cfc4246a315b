using System.Globalization;
using PackCare.Core.Reading;
using PackCare.Import.Sessions;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>
/// Points at single values that are possible but look damaged: a lone number with other decimals than all others of its
/// column, a pack voltage that for one row is not the sum of the cells, one sample that jumps away and back.
/// </summary>
internal static class OddRows
{
    private const int MostTold = 10;

    /// <summary>Tells of them as notices; the values are kept as they were logged.</summary>
    /// <param name="columns">The columns, with their meanings.</param>
    /// <param name="map">Sessions.</param>
    /// <param name="packs">What <see cref="Packs"/> found.</param>
    internal static void Tell(LogColumns columns, SessionMap map, IReadOnlyList<(int Row, string Found)> packs)
    {
        foreach (ColumnRole role in columns.Roles.Where(role => role.IsUsed && role.Profile is not null && role.Column.OddDecimalsLine > 0))
        {
            columns.Problems.Add(Refusals.Notice("odd-digits", role.Column.OddDecimalsLine, role.Column.Index + 1, "a number with other decimals than all others of its column", "have a look: it may have been damaged; it was kept as logged"));
        }

        List<ColumnRole> cells = columns.Cells;
        var told = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach ((int row, string found) in packs)
        {
            Add("pack-not-sum", row, columns.Single(ColumnMeaning.PackVoltage)!, found);
        }

        // Only a column that ever steps far enough is looked at sample by sample.
        Watch[] watched =
        [
            .. cells.Select(role => new Watch(role, role.Factor, 0.06, true)),
            .. columns.OfMeaning(ColumnMeaning.Temperature).Select(role => new Watch(role, role.Unit == Unit.Fahrenheit ? 5.0 / 9 : 1, 4, false)),
            .. columns.Roles.Where(role => role.Meaning is ColumnMeaning.Charge or ColumnMeaning.ChargeIn)
                .Select(role => new Watch(role, 1, Math.Max(0.05 * role.Profile!.LargestMagnitude, 10 * Math.Pow(10, -role.Column.MaxDecimals)), false)),
            .. columns.OfMeaning(ColumnMeaning.Current).Where(_ => cells.Count > 0).Select(role => new Watch(role, 1, 0.2 * role.Profile!.LargestMagnitude, false)),
        ];
        foreach (Watch watch in watched.Where(watch => watch.Role.Profile!.LargestStep * watch.Factor > watch.Limit))
        {
            Spikes(columns, map, cells, watch, Add);
        }

        void Add(string code, int at, ColumnRole role, string found)
        {
            int count = told.GetValueOrDefault(code);
            told[code] = count + 1;
            if (count < MostTold)
            {
                columns.Notice(code, at, role, found, "have a look: it may have been damaged; it was kept as logged");
            }
        }
    }

    private readonly record struct Watch(ColumnRole Role, double Factor, double Limit, bool IsCell);

    /// <summary>Compares the pack voltage of each row with the sum of the cells, as the rows beside it have it.</summary>
    /// <param name="pack">The pack voltage, or null.</param>
    /// <param name="cells">The cells.</param>
    /// <param name="map">Sessions.</param>
    internal static List<(int Row, string Found)> Packs(ColumnRole? pack, List<ColumnRole> cells, SessionMap map)
    {
        var odd = new List<(int Row, string Found)>();
        if (pack is null || cells.Count < 2)
        {
            return odd;
        }

        int longest = pack.Values.Max(block => block.Count);
        double[] gaps = new double[longest];
        double[] one = new double[longest];
        int start = 0;
        int segment = 0;
        for (int b = 0; b < pack.Values.Count; b++)
        {
            int count = pack.Values[b].Count;
            LogColumns.Read(pack.Values[b], pack.Factor, gaps);
            foreach (ColumnRole cell in cells)
            {
                LogColumns.Read(cell.Values[b], cell.Factor, one);
                for (int i = 0; i < count; i++)
                {
                    gaps[i] -= one[i];
                }
            }

            for (int i = 0; i < count; i++)
            {
                double before = i > 0 ? gaps[i - 1] : double.NaN;
                double after = i + 1 < count ? gaps[i + 1] : double.NaN;
                if (!(Math.Abs(gaps[i] - before) > 0.03 || Math.Abs(gaps[i] - after) > 0.03))
                {
                    continue;
                }

                int row = start + i;
                while (row >= map.Segments[segment].End)
                {
                    segment++;
                }

                before = row > map.Segments[segment].Start ? before : double.NaN;
                after = row + 1 < map.Segments[segment].End ? after : double.NaN;
                double usual = double.IsNaN(before) ? after : double.IsNaN(after) ? before : (before + after) / 2;
                double limit = 0.03 + (double.IsNaN(before - after) ? 0 : 2 * Math.Abs(before - after));
                if (Math.Abs(gaps[i] - usual) > limit && odd.Count <= MostTold)
                {
                    odd.Add((row, string.Create(CultureInfo.InvariantCulture, $"a pack voltage that is {gaps[i] * 1000:0} mV off the sum of the cells, where the rows beside it are {usual * 1000:0} mV off")));
                }
            }

            start += count;
        }

        return odd;
    }

    private static void Spikes(LogColumns columns, SessionMap map, List<ColumnRole> cells, Watch watch, Action<string, int, ColumnRole, string> tell)
    {
        int start = 0;
        int segment = 0;
        double[][]? volts = null;
        double[] median = new double[cells.Count];
        for (int b = 0; b < watch.Role.Values.Count; b++)
        {
            double[] values = LogColumns.Values(watch.Role, b, watch.Factor);
            volts = null;
            for (int i = 1; i + 1 < values.Length; i++)
            {
                if (!(Math.Abs(values[i] - values[i - 1]) > watch.Limit))
                {
                    continue;
                }

                int row = start + i;
                while (row >= map.Segments[segment].End)
                {
                    segment++;
                }

                if (row == map.Segments[segment].Start || row + 1 == map.Segments[segment].End)
                {
                    continue;
                }

                bool needsCells = watch.IsCell ? cells.Count > 1 : watch.Role.Meaning == ColumnMeaning.Current;
                volts ??= needsCells ? [.. cells.Select(cell => LogColumns.Values(cell, b, cell.Factor))] : [];
                double common = needsCells ? Median(volts, i, median) : 0;
                if (watch.Role.Meaning == ColumnMeaning.Current ? IsSpike(values, i, watch.Limit, 0) && Math.Abs(common) < 0.002 : IsSpike(values, i, watch.Limit, watch.IsCell ? common : 0))
                {
                    tell("spike", row, watch.Role, watch.Role.Meaning == ColumnMeaning.Current
                        ? "one sample of the current that jumps away from its neighbours and back while the cells do not answer"
                        : "one sample that jumps away from its neighbours and back, alone");
                }
            }

            start += values.Length;
        }

        _ = columns;
    }

    // What all cells do together at this sample is the current's doing.
    private static double Median(double[][] volts, int i, Span<double> into)
    {
        for (int c = 0; c < into.Length; c++)
        {
            into[c] = volts[c][i] - ((volts[c][i - 1] + volts[c][i + 1]) / 2);
        }

        into.Sort();
        return into[into.Length / 2];
    }

    private static bool IsSpike(double[] values, int i, double limit, double common)
    {
        double before = values[i] - values[i - 1];
        double after = values[i] - values[i + 1];
        return before * after > 0 && Math.Abs(before - common) > limit && Math.Abs(after - common) > limit && Math.Abs(values[i + 1] - values[i - 1]) < limit;
    }
}
