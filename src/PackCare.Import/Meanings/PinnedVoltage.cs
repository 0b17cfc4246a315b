using PackCare.Import.Sessions;

namespace PackCare.Import.Meanings;

/// <summary>
/// Finds a charge at constant voltage: the highest cell, or the pack, stays on the millivolt near full while the current falls off by half. A load that falls off lets
/// the cells rise, and loads that hold a voltage do so where cells are empty, not there.
/// </summary>
internal static class PinnedVoltage
{
    private const int FewestRows = 8;
    private const double LeastSeconds = 45;

    // Volts of a cell.
    private const double LeastVolts = 4.05;
    private const double Within = 0.0025;
    private const double CoarsestDigit = 0.005;

    // Of the current at the beginning.
    private const double MostLeft = 0.6;

    /// <summary>The sign of the current while the voltage is held; 0 where it is nowhere, or under both signs.</summary>
    internal static int SignOf(FlowLog log, ColumnRole current)
    {
        double[] seconds = log.Axis.Seconds(0);
        double factor = log.SecondsOfAxis;
        double[] amps = LogColumns.Values(current, 0, 1);
        int sign = 0;
        foreach ((double[] volts, double within) in Voltages(log))
        {
            int known = Math.Min(amps.Length, volts.Length);
            foreach (Segment segment in log.Map.Segments.Where(segment => segment.Start < known))
            {
                int rows = Math.Min(segment.End, known) - segment.Start;
                int its = SignIn(amps.AsSpan(segment.Start, rows), volts.AsSpan(segment.Start, rows), within, seconds.AsSpan(segment.Start), factor);
                if (its * sign < 0)
                {
                    return 0;
                }

                sign = its == 0 ? sign : its;
            }
        }

        return sign;
    }

    // The highest cell of each row, and the pack by the cell.
    private static IEnumerable<(double[] Volts, double Within)> Voltages(FlowLog log)
    {
        List<ColumnRole> cells = log.Columns.Cells;
        if (cells.Count > 0 && cells.TrueForAll(cell => cell.LastDigit <= CoarsestDigit))
        {
            double[][] volts = [.. cells.Select(cell => cell.FirstValues)];
            double[] highest = [.. volts[0]];
            foreach (double[] cell in volts)
            {
                for (int i = 0; i < highest.Length; i++)
                {
                    highest[i] = Math.Max(highest[i], cell[i]);
                }
            }

            yield return (highest, Within + cells.Max(cell => cell.LastDigit));
        }

        if (cells.Count > 0 && log.Columns.Single(Core.Reading.ColumnMeaning.PackVoltage) is { } pack && pack.LastDigit / cells.Count <= CoarsestDigit)
        {
            yield return (LogColumns.Values(pack, 0, pack.Factor / cells.Count), Within + (pack.LastDigit / cells.Count));
        }
    }

    // The longest run of rows in which the voltage stays by its highest while a current of one sign flows.
    private static int SignIn(ReadOnlySpan<double> amps, ReadOnlySpan<double> volts, double within, ReadOnlySpan<double> seconds, double factor)
    {
        double[] flowing = [.. Flowing(amps, volts)];
        if (flowing.Length < FewestRows)
        {
            return 0;
        }

        // Not the very highest: a few values are above by noise.
        double top = Selection.At(flowing, flowing.Length * 9 / 10);
        if (top < LeastVolts)
        {
            return 0;
        }

        (int length, int longest, int at) = (0, 0, 0);
        for (int i = 0; i < amps.Length; i++)
        {
            bool isHeld = amps[i] != 0 && Math.Abs(volts[i] - top) <= within;
            length = !isHeld ? 0 : length > 0 && amps[i] * amps[i - 1] > 0 ? length + 1 : 1;
            (longest, at) = length > longest ? (length, i - length + 1) : (longest, at);
        }

        if (longest < FewestRows || (seconds[at + longest - 1] - seconds[at]) * factor < LeastSeconds)
        {
            return 0;
        }

        // Cells that lay higher before were at rest, or under less of a load.
        for (int i = 0; i < at; i++)
        {
            if (volts[i] > top + (2 * within))
            {
                return 0;
            }
        }

        int third = longest / 3;
        double first = Middle(amps.Slice(at, third));
        double middle = Middle(amps.Slice(at + third, third));
        double last = Middle(amps.Slice(at + longest - third, third));
        return last <= MostLeft * first && middle <= first && last <= middle ? Math.Sign(amps[at]) : 0;
    }

    private static List<double> Flowing(ReadOnlySpan<double> amps, ReadOnlySpan<double> volts)
    {
        var flowing = new List<double>();
        for (int i = 0; i < amps.Length; i++)
        {
            if (amps[i] != 0 && double.IsFinite(amps[i] + volts[i]))
            {
                flowing.Add(volts[i]);
            }
        }

        return flowing;
    }

    private static double Middle(ReadOnlySpan<double> amps)
    {
        double[] sizes = new double[amps.Length];
        for (int i = 0; i < sizes.Length; i++)
        {
            sizes[i] = Math.Abs(amps[i]);
        }

        return Selection.At(sizes, sizes.Length / 2);
    }
}
