using System.Globalization;
using PackCare.Core.Reading;
using PackCare.Core.Samples;
using PackCare.Import.Sessions;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>Finds logs in which packs or cells take turns row by row, told apart by a column whose meaning is unknown, or by none.</summary>
internal static class TurnTaking
{
    private const int MostLabels = 64;
    private const int MostTurns = 8;
    private const int FewestRows = 8;
    private const int MostRows = 4096;

    /// <summary>Refuses a log whose times repeat while an unexplained column changes: its rows are of different things.</summary>
    internal static void CheckTimes(LogColumns columns, TimeAxis axis, SessionMap map)
    {
        List<ColumnRole> unexplained = Unexplained(columns);
        if (unexplained.Count == 0)
        {
            return;
        }

        double[] seconds = axis.Seconds(0);
        int repeats = 0;
        var changes = new int[unexplained.Count];
        long[][] values = [.. unexplained.Select(FirstBlock)];
        for (int i = 1; i < seconds.Length; i++)
        {
            // Packs that a label tells apart have a moment each.
            if (seconds[i] == seconds[i - 1] && map.SegmentOf(i).Start < i)
            {
                repeats++;
                for (int c = 0; c < changes.Length; c++)
                {
                    changes[c] += values[c][i] != values[c][i - 1] ? 1 : 0;
                }
            }
        }

        int worst = Array.IndexOf(changes, changes.Max());
        if (repeats * 4 > seconds.Length && changes[worst] * 2 > repeats)
        {
            Refuse(columns, unexplained[worst], "times that repeat");
        }
    }

    /// <summary>
    /// Refuses a log whose voltages jump with an unexplained column, or with every second to eighth row, where no current explains it: one
    /// pack's voltage does not jump to and fro, those of several packs in turn do.
    /// </summary>
    internal static void CheckVoltages(LogColumns columns, SessionMap map)
    {
        List<ColumnRole> voltages = columns.Cells.Count > 0 ? columns.Cells : [.. columns.OfMeaning(ColumnMeaning.PackVoltage).Take(1)];
        double[] volts = Mean(voltages);
        if (volts.Length < FewestRows)
        {
            return;
        }

        double[]? amperes = columns.Single(ColumnMeaning.Current) is { } current ? LogColumns.Values(current, 0, 1, volts.Length) : null;
        int[] sessions = Sessions(map, volts.Length);
        double ohms = amperes is null ? 0 : Slope(volts, amperes, sessions);
        foreach (ColumnRole label in Unexplained(columns))
        {
            long[] words = FirstBlock(label)[..volts.Length];
            if (label.Column.Shape == ColumnShape.Text && Period(words) is int period && words.Length >= 4 * period)
            {
                Refuse(columns, label, "rows that take turns");
                return;
            }

            if (Changes(words) * 2 > words.Length && Jumps(volts, amperes, ohms, sessions, 0.004, LastOfSameLabel(words, sessions)))
            {
                Refuse(columns, label, "voltages that jump to and fro");
                return;
            }
        }

        // Voltages that hardly move from row to row jump in no order of turns.
        const double Least = 0.03;
        if (!(PathOf(volts, amperes, ohms, sessions) > Least * (volts.Length / 2)))
        {
            return;
        }

        for (int turns = 2; turns <= MostTurns; turns++)
        {
            if (Jumps(volts, amperes, ohms, sessions, Least, [.. Enumerable.Range(-turns, volts.Length)]))
            {
                columns.Refuse(
                    "rows-take-turns", 0, voltages[0], $"voltages that jump to and fro and are alike in every {Ordinal(turns)} row, as those of {turns} packs in turn are",
                    "add a column headed pack that names the pack of each row, or write one file a pack");
                return;
            }
        }
    }

    /// <summary>
    /// Of a log without headers, the time that stands still while packs or cells take turns. It is taken where a column is known to name
    /// them, else the log is refused.
    /// </summary>
    internal static ColumnRole? StandingTime(LogColumns columns, List<ColumnRole> numbers)
    {
        foreach (ColumnRole time in numbers.Where(role => role.Hint.Quantity == Quantity.Unknown && role.Profile is { Falls: 0, Missing: 0, Min: >= 0, IsConstant: false } && !VoltageFinder.LooksLikeCell(role)))
        {
            long[] moments = FirstBlock(time);
            int turns = Turns(moments);
            if (turns < 2)
            {
                continue;
            }

            ColumnRole? label = columns.Roles.FirstOrDefault(role => role != time && IsLabel(role) && TellsApart(FirstBlock(role), moments));
            if (label is { Hint.Quantity: Quantity.PackLabel or Quantity.CellNumber })
            {
                return time;
            }

            if (label is not null)
            {
                Refuse(columns, label, $"a time in column {time.Column.Index + 1} that repeats");
                return null;
            }

            columns.Refuse(
                "rows-take-turns", 0, time, $"a time that stands still for {turns} rows each: rows of {turns} packs in turn, or {turns} samples a second of a clock that counts seconds",
                "if packs take turns, write one file a pack; if not, head that column, for instance time_s");
            return null;
        }

        return null;
    }

    /// <summary>Refuses a log whose rows are of different things.</summary>
    /// <param name="columns">Its columns.</param>
    /// <param name="label">The column that tells them apart.</param>
    /// <param name="sign">What shows it.</param>
    /// <param name="row">Where it shows first, from 0.</param>
    internal static void Refuse(LogColumns columns, ColumnRole label, string sign, int row = 0)
    {
        int column = label.Column.Index + 1;
        columns.Refuse(
            "rows-take-turns", row, label, $"{sign} while column {column} changes: rows of different packs or cells",
            $"head that column pack or cell, or write one file a pack; or in a reading guide: {{ \"index\": {column}, \"meaning\": \"pack-label\" }} or \"cell-number\", or \"ignored\" if all rows are of one pack");
    }

    private static string Ordinal(int number) => number switch { 2 => "second", 3 => "third", _ => number.ToString(CultureInfo.InvariantCulture) + "th" };

    /// <summary>Columns that may name what a row is of, and whose meaning is unknown.</summary>
    internal static List<ColumnRole> Unexplained(LogColumns columns) => [.. columns.Roles.Where(role => !role.IsUsed && !role.Hint.IsDerived && IsLabel(role))];

    private static bool IsLabel(ColumnRole role) =>
        (role.Column.Shape == ColumnShape.Text && role.Column.Words.Count is > 1 and <= MostLabels)
        || (role.Profile is { Count: > 1, IsConstant: false, Min: >= 0, Max: <= MostLabels } && role.Column.MaxDecimals == 0);

    /// <summary>The values of a column's first block as they are kept.</summary>
    internal static long[] FirstBlock(ColumnRole role)
    {
        long[] values = new long[role.Values.Count == 0 ? 0 : role.Values[0].Count];
        if (values.Length > 0)
        {
            BlockCodec.Decode(role.Values[0], values);
        }

        return values;
    }

    private static double[] Mean(List<ColumnRole> voltages)
    {
        double[] mean = new double[voltages.Count == 0 ? 0 : Math.Min(MostRows, voltages[0].Values[0].Count)];
        foreach (ColumnRole voltage in voltages)
        {
            RowMath.Add(mean, LogColumns.Values(voltage, 0, voltage.Factor / voltages.Count, mean.Length));
        }

        return mean;
    }

    /// <summary>How often a value differs from the one before it.</summary>
    internal static int Changes(long[] words)
    {
        int changes = 0;
        for (int i = 1; i < words.Length; i++)
        {
            changes += words[i] != words[i - 1] ? 1 : 0;
        }

        return changes;
    }

    // After how many rows the words begin anew, each time in the same order.
    private static int? Period(long[] words)
    {
        int period = Array.IndexOf(words, words[0], 1);
        if (period < 2 || words.AsSpan(0, period).ToArray().Distinct().Count() != period)
        {
            return null;
        }

        for (int i = period; i < words.Length; i++)
        {
            if (words[i] != words[i - period])
            {
                return null;
            }
        }

        return period;
    }

    // The row before with the same label, where the row right before has another; else -1.
    private static int[] LastOfSameLabel(long[] words, int[] sessions)
    {
        var last = new Dictionary<(int Session, long Word), int>();
        int[] same = new int[words.Length];
        for (int i = 0; i < words.Length; i++)
        {
            (int, long) key = (sessions[i], words[i]);
            same[i] = i > 0 && words[i] != words[i - 1] && last.TryGetValue(key, out int before) ? before : -1;
            last[key] = i;
        }

        return same;
    }

    // Whether the voltage differs from the row before by much more than from the row that it is like, whatever the current does.
    private static bool Jumps(double[] volts, double[]? amperes, double ohms, int[] sessions, double least, int[] alike)
    {
        double beside = 0;
        double apart = 0;
        double moved = 0;
        int rows = 0;
        for (int i = 1; i < volts.Length; i++)
        {
            if (alike[i] < 0 || sessions[i] != sessions[i - 1] || sessions[i] != sessions[alike[i]])
            {
                continue;
            }

            double near = volts[i] - volts[i - 1];
            double far = volts[i] - volts[alike[i]];
            double unexplained = Unexplained(volts, amperes, ohms, i);
            double within = far - (amperes is null ? 0 : ohms * (amperes[i] - amperes[alike[i]]));
            if (!double.IsNaN(unexplained + within))
            {
                moved += Math.Abs(near);
                beside += Math.Abs(unexplained);
                apart += Math.Abs(within);
                rows++;
            }
        }

        return rows >= FewestRows - 2 && rows * 2 > volts.Length && beside > least * rows && beside > 4 * apart && beside > 0.12 * moved;
    }

    // How far the voltage goes from row to row in all, less what the current does.
    private static double PathOf(double[] volts, double[]? amperes, double ohms, int[] sessions)
    {
        double path = 0;
        for (int i = 1; i < volts.Length; i++)
        {
            double unexplained = Unexplained(volts, amperes, ohms, i);
            path += double.IsNaN(unexplained) || sessions[i] != sessions[i - 1] ? 0 : Math.Abs(unexplained);
        }

        return path;
    }

    private static double Unexplained(double[] volts, double[]? amperes, double ohms, int row) =>
        volts[row] - volts[row - 1] - (amperes is null ? 0 : ohms * (amperes[row] - amperes[row - 1]));

    // The session of each of the first rows.
    private static int[] Sessions(SessionMap map, int rows)
    {
        int[] sessions = new int[rows];
        for (int segment = 0; segment < map.Segments.Count && map.Segments[segment].Start < rows; segment++)
        {
            sessions.AsSpan(map.Segments[segment].Start..Math.Min(rows, map.Segments[segment].End)).Fill(map.Segments[segment].Session);
        }

        return sessions;
    }

    private static double Slope(double[] volts, double[] amperes, int[] sessions)
    {
        double product = 0;
        double square = 0;
        for (int i = 1; i < volts.Length; i++)
        {
            double step = amperes[i] - amperes[i - 1];
            double rise = volts[i] - volts[i - 1];
            if (!double.IsNaN(step + rise) && sessions[i] == sessions[i - 1])
            {
                product += step * rise;
                square += step * step;
            }
        }

        return square > 0 ? product / square : 0;
    }

    // How many rows a time stands still, the same in nearly all its moments; 1 where it does not.
    private static int Turns(long[] moments)
    {
        var lengths = new List<int>();
        int length = 1;
        for (int i = 1; i < moments.Length; i++)
        {
            if (moments[i] == moments[i - 1])
            {
                length++;
                continue;
            }

            lengths.Add(length);
            length = 1;
        }

        if (lengths.Count < 3)
        {
            return 1;
        }

        int usual = lengths.GroupBy(n => n).MaxBy(group => group.Count())!.Key;
        return lengths.Count(n => n == usual) * 10 >= lengths.Count * 9 ? usual : 1;
    }

    // Another label in each row of a moment.
    private static bool TellsApart(long[] labels, long[] moments)
    {
        int still = 0;
        int changes = 0;
        for (int i = 1; i < moments.Length; i++)
        {
            if (moments[i] == moments[i - 1])
            {
                still++;
                changes += labels[i] != labels[i - 1] ? 1 : 0;
            }
        }

        return changes * 20 >= still * 19;
    }
}
