using PackCare.Core.Reading;
using PackCare.Core.Samples;
using PackCare.Import.Sessions;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>
/// Finds logs that hold all rows of one pack, then all of the next, told apart by a column whose meaning is unknown: where it changes the
/// cells jump, and no current explains it. Where nothing jumps the column is pointed at.
/// </summary>
internal static class LabelBlocks
{
    private const int Beside = 4;
    private const int MostChanges = 1000;
    private const double LeastJump = 0.015;
    private const double LeastJumpWithoutCurrent = 0.03;
    private const double OverNoise = 6;

    // Where the log shows no other step of the current, what a cell of a small pack has.
    private const double MostOhms = 0.1;

    /// <summary>Refuses a log at the first such row.</summary>
    internal static void Check(LogColumns columns, SessionMap map)
    {
        List<ColumnRole> voltages = columns.Cells.Count > 0 ? columns.Cells : [.. columns.OfMeaning(ColumnMeaning.PackVoltage).Take(1)];
        if (voltages.Count == 0)
        {
            return;
        }

        foreach (ColumnRole label in TurnTaking.Unexplained(columns).Where(MayNamePacks))
        {
            List<int> changes = Changes(label);
            if (changes.Count is 0 or > MostChanges || changes.Count * 4 > columns.Table.Rows)
            {
                continue;
            }

            var rows = new Rows(voltages, columns.Single(ColumnMeaning.Current), map, [.. changes]);
            foreach (int row in changes.Where(row => map.SegmentOf(row).Start < row && rows.Jumps(row)))
            {
                TurnTaking.Refuse(columns, label, "voltages that jump", row);
                return;
            }
        }
    }

    /// <summary>Points at words that change and were left out: they may be names of packs.</summary>
    internal static void Tell(LogColumns columns)
    {
        foreach (ColumnRole label in TurnTaking.Unexplained(columns).Where(role => MayNamePacks(role) && role.Column.Shape == ColumnShape.Text && columns.Problems.All(problem => problem.Column != role.Column.Index + 1)))
        {
            if (Changes(label) is [int first, ..])
            {
                columns.Notice(
                    "left-out", first, label, $"a column {(label.Header is null ? "without a header" : $"\"{label.Header}\"")} that was left out, and changes here",
                    "if it names packs, head it pack, or say so in a reading guide");
            }
        }
    }

    private static bool MayNamePacks(ColumnRole role) => role.Hint.Quantity is Quantity.Unknown or Quantity.PackLabel or Quantity.Session or Quantity.CellNumber or Quantity.Other || (role.Column.Shape == ColumnShape.Text && role.Hint.Quantity is Quantity.Date or Quantity.Clock or Quantity.Elapsed);

    // Rows, from 0, whose label is not that of the row before.
    private static List<int> Changes(ColumnRole label)
    {
        var changes = new List<int>();
        long previous = BlockCodec.Missing;
        int row = 0;
        foreach (SampleBlock block in label.Values)
        {
            long[] words = new long[block.Count];
            BlockCodec.Decode(block, words);
            foreach (long word in words)
            {
                if (word != previous && row > 0)
                {
                    changes.Add(row);
                }

                previous = word;
                row++;
            }
        }

        return changes;
    }

    // The voltages and the current about a row.
    private sealed class Rows(List<ColumnRole> voltages, ColumnRole? current, SessionMap map, HashSet<int> changes)
    {
        private readonly (BlockCursor Cursor, double Factor)[] _volts = [.. voltages.Select(role => (new BlockCursor(role.Values), role.Factor))];
        private readonly BlockCursor? _amperes = current is null ? null : new BlockCursor(current.Values);
        private (double Ohms, double Step)? _usual;

        internal bool Jumps(int row)
        {
            double jump = Step(row);
            double noise = 0;
            foreach (int other in Enumerable.Range(row - Beside, (2 * Beside) + 1).Where(IsOrdinary))
            {
                double step = Step(other);
                noise = double.IsNaN(step) ? noise : Math.Max(noise, Math.Abs(step));
            }

            double least = Math.Max(current is null ? LeastJumpWithoutCurrent : LeastJump, OverNoise * noise);
            return Math.Abs(jump) > least && !IsExplained(row, jump);
        }

        // By a step of the current through what resistance the cells show elsewhere.
        private bool IsExplained(int row, double jump)
        {
            double step = CurrentStep(row);
            if (double.IsNaN(step) || step == 0)
            {
                return false;
            }

            (double ohms, double largest) = _usual ??= Usual();
            double ratio = jump / step;
            return largest > 0.3 * Math.Abs(step) && ohms > 0 ? ratio > 0.2 * ohms && ratio < 4 * ohms : ratio is > 0 and < MostOhms;
        }

        // The resistance by the steps of the current where the label stays, and the largest of them.
        private (double Ohms, double Step) Usual()
        {
            double[] amperes = current!.FirstValues;
            double product = 0;
            double square = 0;
            double largest = 0;
            for (int row = 1; row < amperes.Length; row++)
            {
                double step = amperes[row] - amperes[row - 1];
                if (IsOrdinary(row) && Math.Abs(step) > 0 && Step(row) is var volts && !double.IsNaN(volts))
                {
                    product += step * volts;
                    square += step * step;
                    largest = Math.Max(largest, Math.Abs(step));
                }
            }

            return (square > 0 ? product / square : 0, largest);
        }

        private bool IsOrdinary(int row) => row > 0 && row < map.Segments[^1].End && !changes.Contains(row) && map.SegmentOf(row).Start < row;

        private double Step(int row)
        {
            double sum = 0;
            foreach ((BlockCursor cursor, double factor) in _volts)
            {
                sum += (At(cursor, row) - At(cursor, row - 1)) * factor;
            }

            return sum / _volts.Length;
        }

        private double CurrentStep(int row) => _amperes is null ? double.NaN : (At(_amperes, row) - At(_amperes, row - 1)) * current!.Factor * (current.Negated ? -1 : 1);

        private static double At(BlockCursor cursor, int row)
        {
            (long scaled, int decimals) = cursor.At(row);
            return scaled == BlockCodec.Missing ? double.NaN : scaled / Math.Pow(10, decimals);
        }
    }
}
