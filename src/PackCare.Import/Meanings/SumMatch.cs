namespace PackCare.Import.Meanings;

/// <summary>How near a column comes to the sum of the cells, row by row.</summary>
/// <param name="Ratio">Its mean ratio to the sum.</param>
/// <param name="Nearest">The part of the sum by which it is off in its better rows (the best tenth).</param>
/// <param name="Usual">The part of the sum by which it is off in half of the rows.</param>
/// <param name="Tight">The part of rows in which it is the sum to within what meters differ by.</param>
/// <param name="Slack">What the digits logged may hide, as a part of the sum.</param>
/// <param name="Moves">Whether it goes up and down as the sum does.</param>
internal readonly record struct SumMatch(double Ratio, double Nearest, double Usual, double Tight, double Slack, bool Moves)
{
    // Leads and connectors take their share under load, but no meter is further off than this in its best rows.
    private const double MostAtBest = 0.03;
    private const double MostUsually = 0.1;
    private const double TightEnough = 0.02;

    // Volts: where the sum hardly moves, only fine digits tell a pack voltage from a temperature of about its size.
    private const double FineEnough = 0.1;

    /// <summary>No row to compare.</summary>
    internal static SumMatch None { get; } = new(double.NaN, double.PositiveInfinity, double.PositiveInfinity, 0, 0, false);

    /// <summary>Whether it is the sum; a column that no header names has to match in nearly every row.</summary>
    internal bool IsSum(bool isNamed) => isNamed ? Nearest <= MostAtBest + Slack && Usual <= MostUsually + Slack : Tight >= 0.9 && Moves;

    /// <summary>Whether it is off further than two meters usually are.</summary>
    internal bool IsLoose => Nearest > 0.012 + Slack;

    /// <summary>Compares the rows of the first blocks.</summary>
    /// <param name="role">The column.</param>
    /// <param name="factor">What makes volts of it.</param>
    /// <param name="cells">The cells.</param>
    internal static SumMatch Of(ColumnRole role, double factor, IReadOnlyList<ColumnRole> cells)
    {
        var off = new List<double>();
        var packs = new List<double>();
        var totals = new List<double>();
        double ratios = 0;
        double sums = 0;
        for (int b = 0; b < Math.Min(4, role.Values.Count); b++)
        {
            double[] pack = LogColumns.Values(role, b, factor);
            double[] total = new double[pack.Length];
            foreach (ColumnRole cell in cells)
            {
                double[] values = LogColumns.Values(cell, b, cell.Factor);
                for (int i = 0; i < total.Length; i++)
                {
                    total[i] += values[i];
                }
            }

            for (int i = 0; i < total.Length; i++)
            {
                if (total[i] > 0.5 && double.IsFinite(pack[i]))
                {
                    off.Add(Math.Abs((pack[i] / total[i]) - 1));
                    packs.Add(pack[i]);
                    totals.Add(total[i]);
                    ratios += pack[i] / total[i];
                    sums += total[i];
                }
            }
        }

        if (off.Count == 0)
        {
            return None;
        }

        off.Sort();
        double slack = (0.5 * factor * Math.Pow(10, -role.Column.MaxDecimals) + 0.003 * cells.Count) * off.Count / sums;
        double digits = (factor * Math.Pow(10, -role.Column.MaxDecimals)) + (0.5 * cells.Sum(cell => cell.Factor * Math.Pow(10, -cell.Column.MaxDecimals)));
        return new SumMatch(
            ratios / off.Count, off[off.Count / 10], off[off.Count / 2], off.Count(value => value <= TightEnough + slack) / (double)off.Count, slack,
            MovesAlong([.. totals], [.. packs], digits));
    }

    /// <summary>Whether one goes up and down as the other does: their difference stays within what leads take, and the digits hide.</summary>
    /// <param name="sum">Volts of the cells together.</param>
    /// <param name="pack">What may be the pack's.</param>
    /// <param name="digits">What their digits may hide, in volts.</param>
    internal static bool MovesAlong(double[] sum, double[] pack, double digits)
    {
        double[] apart = [.. pack.Zip(sum, (p, s) => p - s).Where(double.IsFinite).Order()];
        double[] sums = [.. sum.Where(double.IsFinite).Order()];
        if (apart.Length == 0 || sums.Length == 0)
        {
            return false;
        }

        // One row in twenty may be off, for a damaged value is pointed at later.
        double moved = sums[^1] - sums[0];
        double strayed = apart[^(1 + (apart.Length / 20))] - apart[apart.Length / 20];
        return moved < 3 * digits ? digits < FineEnough && strayed <= (2 * digits) + 0.01 : strayed <= (0.35 * moved) + digits + 0.01;
    }
}
