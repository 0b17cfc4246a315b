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
    internal static void Tell(LogColumns columns, SessionMap map)
    {
        foreach (ColumnRole role in columns.Roles.Where(role => role.IsUsed && role.Profile is not null && role.Column.OddDecimalsLine > 0))
        {
            columns.Problems.Add(Refusals.Notice("odd-digits", role.Column.OddDecimalsLine, role.Column.Index + 1, "a number with other decimals than all others of its column", "have a look: it may have been damaged; it was kept as logged"));
        }

        List<ColumnRole> cells = columns.Cells;
        ColumnRole? pack = columns.Single(ColumnMeaning.PackVoltage);
        ColumnRole? current = columns.Single(ColumnMeaning.Current);
        var told = new Dictionary<string, int>(StringComparer.Ordinal);
        int row = 0;
        int segment = 0;
        int blocks = columns.Table.LineBlocks.Count;
        double[] watched = new double[columns.Roles.Length];
        for (int b = 0; b < blocks; b++)
        {
            double[][] volts = [.. cells.Select(cell => LogColumns.Values(cell, b, cell.Factor))];
            double[]? packVolts = pack is null || cells.Count < 2 ? null : LogColumns.Values(pack, b, pack.Factor);
            List<(ColumnRole Role, double[] Values, double Limit)> others =
            [
                .. columns.OfMeaning(ColumnMeaning.Temperature).Select(role => (role, LogColumns.Values(role, b, role.Unit == Unit.Fahrenheit ? 5.0 / 9 : 1), 4.0)),
                .. columns.Roles.Where(role => role.Meaning is ColumnMeaning.Charge or ColumnMeaning.ChargeIn).Select(role => (role, LogColumns.Values(role, b, 1), Math.Max(0.05 * role.Profile!.LargestMagnitude, 10 * Math.Pow(10, -role.Column.MaxDecimals)))),
            ];
            double[]? amps = current is null ? null : LogColumns.Values(current, b, 1);
            int rows = columns.Table.LineBlocks[b].Count;
            for (int i = 0; i < rows; i++, row++)
            {
                while (row >= map.Segments[segment].End)
                {
                    segment++;
                }

                bool middle = i > 0 && i + 1 < rows && row > map.Segments[segment].Start && row + 1 < map.Segments[segment].End;
                if (packVolts is not null)
                {
                    double here = Gap(packVolts, volts, i);
                    double before = i > 0 && row > map.Segments[segment].Start ? Gap(packVolts, volts, i - 1) : double.NaN;
                    double after = i + 1 < rows && row + 1 < map.Segments[segment].End ? Gap(packVolts, volts, i + 1) : double.NaN;
                    double usual = double.IsNaN(before) ? after : double.IsNaN(after) ? before : (before + after) / 2;
                    double limit = 0.03 + (double.IsNaN(before - after) ? 0 : 2 * Math.Abs(before - after));
                    if (Math.Abs(here - usual) > limit)
                    {
                        Add("pack-not-sum", row, pack!, string.Create(CultureInfo.InvariantCulture, $"a pack voltage that is {here * 1000:0} mV off the sum of the cells, where the rows beside it are {usual * 1000:0} mV off"));
                    }
                }

                if (!middle)
                {
                    continue;
                }

                double common = cells.Count > 0 ? Median(volts, i, watched.AsSpan(0, Math.Min(cells.Count, watched.Length))) : 0;
                if (amps is not null && IsSpike(amps, i, 0.2 * current!.Profile!.LargestMagnitude, 0) && Math.Abs(common) < 0.002 && cells.Count > 0)
                {
                    Add("spike", row, current, "one sample of the current that jumps away from its neighbours and back while the cells do not answer");
                }

                for (int c = 0; c < volts.Length; c++)
                {
                    if (IsSpike(volts[c], i, 0.06, cells.Count > 1 ? common : 0))
                    {
                        Add("spike", row, cells[c], "one sample of a cell that jumps away from its neighbours and back, alone");
                    }
                }

                foreach ((ColumnRole role, double[] values, double limit) in others)
                {
                    if (IsSpike(values, i, limit, 0))
                    {
                        Add("spike", row, role, "one sample that jumps away from its neighbours and back");
                    }
                }
            }
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

    private static double Gap(double[] pack, double[][] cells, int i)
    {
        double sum = 0;
        foreach (double[] cell in cells)
        {
            sum += cell[i];
        }

        return pack[i] - sum;
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
