using System.Buffers;
using PackCare.Core.Samples;

namespace PackCare.Import.Meanings;

/// <summary>How near a column comes to the sum of the cells, row by row.</summary>
/// <param name="Ratio">Its mean ratio to the sum.</param>
/// <param name="Nearest">The part of the sum by which it is off in its better rows (the best tenth).</param>
/// <param name="Usual">The part of the sum by which it is off in half of the rows.</param>
/// <param name="Tight">The part of rows in which it is the sum to within what meters differ by.</param>
/// <param name="Slack">What the digits logged may hide, as a part of the sum.</param>
/// <param name="Moves">Whether it goes up and down as the sum does.</param>
/// <param name="Range">How far the sum goes from its lowest to its highest, in volts.</param>
internal readonly record struct SumMatch(double Ratio, double Nearest, double Usual, double Tight, double Slack, bool Moves, double Range)
{
    // Leads and connectors take their share under load, but no meter is further off than this in its best rows.
    private const double MostAtBest = 0.03;
    private const double MostUsually = 0.1;
    private const double TightEnough = 0.02;

    // Volts: where the sum hardly moves, only fine digits tell a pack voltage from a temperature of about its size.
    private const double FineEnough = 0.1;

    // Volts: below this there is nothing to be a part of.
    private const double LeastSum = 0.5;

    // A long log is compared where some of its blocks begin: as many rows as one block has tell as much as all.
    private const int MostBlocks = 4;
    private const int MostRows = Channel.BlockRows;

    /// <summary>No row to compare.</summary>
    internal static SumMatch None { get; } = new(double.NaN, double.PositiveInfinity, double.PositiveInfinity, 0, 0, false, 0);

    /// <summary>Whether it is the sum; a column that no header names has to match in nearly every row.</summary>
    internal bool IsSum(bool isNamed) => isNamed ? Nearest <= MostAtBest + Slack && Usual <= MostUsually + Slack : Tight >= 0.9 && Moves;

    /// <summary>Whether it is off further than two meters usually are.</summary>
    internal bool IsLoose => Nearest > 0.012 + Slack;

    /// <summary>Compares the first rows of the first blocks.</summary>
    /// <param name="role">The column.</param>
    /// <param name="factor">What makes volts of it.</param>
    /// <param name="cells">The cells.</param>
    internal static SumMatch Of(ColumnRole role, double factor, IReadOnlyList<ColumnRole> cells)
    {
        int blocks = Math.Min(MostBlocks, role.Values.Count);
        int each = blocks == 0 ? 0 : Math.Min(MostRows / blocks, role.Values[0].Count);
        double[] off = new double[each * blocks];
        double[] apart = new double[each * blocks];
        var parts = new Part[blocks];
        Parallel.For(0, blocks, b => parts[b] = Compare(role, factor, cells, b, off.AsSpan(b * each, each), apart.AsSpan(b * each, each)));
        var all = new Part(0, 0, 0, double.PositiveInfinity, double.NegativeInfinity);
        for (int b = 0; b < blocks; b++)
        {
            // Where rows were passed over, the blocks after them move up.
            off.AsSpan(b * each, parts[b].Rows).CopyTo(off.AsSpan(all.Rows));
            apart.AsSpan(b * each, parts[b].Rows).CopyTo(apart.AsSpan(all.Rows));
            all = all.With(parts[b]);
        }

        if (all.Rows == 0)
        {
            return None;
        }

        Span<double> offs = off.AsSpan(0, all.Rows);
        double slack = (0.5 * factor * Math.Pow(10, -role.Column.MaxDecimals) + 0.003 * cells.Count) * all.Rows / all.Sums;
        double digits = (factor * Math.Pow(10, -role.Column.MaxDecimals)) + (0.5 * cells.Sum(cell => cell.Factor * Math.Pow(10, -cell.Column.MaxDecimals)));
        int tight = CountUpTo(offs, TightEnough + slack);
        return new SumMatch(
            all.Ratios / all.Rows, Selection.At(offs, all.Rows / 10), Selection.At(offs, all.Rows / 2), tight / (double)all.Rows, slack,
            MovesAlong(apart.AsSpan(0, all.Rows), all.Highest - all.Lowest, digits), all.Highest - all.Lowest);
    }

    /// <summary>What the rows of one block, or of several, come to.</summary>
    private readonly record struct Part(int Rows, double Ratios, double Sums, double Lowest, double Highest)
    {
        public Part With(Part other) =>
            new(Rows + other.Rows, Ratios + other.Ratios, Sums + other.Sums, Math.Min(Lowest, other.Lowest), Math.Max(Highest, other.Highest));
    }

    private static Part Compare(ColumnRole role, double factor, IReadOnlyList<ColumnRole> cells, int block, Span<double> off, Span<double> apart)
    {
        int count = Math.Min(role.Values[block].Count, off.Length);
        double[] pack = ArrayPool<double>.Shared.Rent(count);
        double[] cell = ArrayPool<double>.Shared.Rent(count);
        double[] sums = ArrayPool<double>.Shared.Rent(count);
        LogColumns.Read(role.Values[block], factor, pack.AsSpan(0, count));
        Span<double> total = sums.AsSpan(0, count);
        total.Clear();
        foreach (ColumnRole one in cells)
        {
            LogColumns.Read(one.Values[block], one.Factor, cell.AsSpan(0, count));
            RowMath.Add(total, cell);
        }

        var part = new Part(0, 0, 0, double.PositiveInfinity, double.NegativeInfinity);
        int rows = 0;
        for (int i = 0; i < count; i++)
        {
            if (total[i] > LeastSum && double.IsFinite(pack[i]))
            {
                double ratio = pack[i] / total[i];
                off[rows] = Math.Abs(ratio - 1);
                apart[rows] = pack[i] - total[i];
                rows++;
                part = new Part(rows, part.Ratios + ratio, part.Sums + total[i], Math.Min(part.Lowest, total[i]), Math.Max(part.Highest, total[i]));
            }
        }

        ArrayPool<double>.Shared.Return(pack);
        ArrayPool<double>.Shared.Return(cell);
        ArrayPool<double>.Shared.Return(sums);
        return part;
    }

    private static int CountUpTo(ReadOnlySpan<double> values, double limit)
    {
        int count = 0;
        foreach (double value in values)
        {
            count += value <= limit ? 1 : 0;
        }

        return count;
    }

    /// <summary>Whether one goes up and down as the other does: their difference stays within what leads take, and the digits hide.</summary>
    /// <param name="sum">Volts of the cells together.</param>
    /// <param name="pack">What may be the pack's.</param>
    /// <param name="digits">What their digits may hide, in volts.</param>
    internal static bool MovesAlong(double[] sum, double[] pack, double digits)
    {
        double[] apart = new double[pack.Length];
        int rows = 0;
        double lowest = double.PositiveInfinity;
        double highest = double.NegativeInfinity;
        for (int i = 0; i < pack.Length; i++)
        {
            if (double.IsFinite(sum[i]))
            {
                lowest = Math.Min(lowest, sum[i]);
                highest = Math.Max(highest, sum[i]);
            }

            if (double.IsFinite(pack[i] - sum[i]))
            {
                apart[rows++] = pack[i] - sum[i];
            }
        }

        return MovesAlong(apart.AsSpan(0, rows), highest - lowest, digits);
    }

    private static bool MovesAlong(Span<double> apart, double moved, double digits)
    {
        if (apart.IsEmpty)
        {
            return false;
        }

        // One row in twenty may be off, for a damaged value is pointed at later.
        double strayed = Selection.At(apart, apart.Length - 1 - (apart.Length / 20)) - Selection.At(apart, apart.Length / 20);
        return moved < 3 * digits ? digits < FineEnough && strayed <= (2 * digits) + 0.01 : strayed <= (0.35 * moved) + digits + 0.01;
    }
}
