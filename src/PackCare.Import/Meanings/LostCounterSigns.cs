using PackCare.Core.Samples;
using PackCare.Import.Sessions;

namespace PackCare.Import.Meanings;

/// <summary>Looks for the row from which on a charge counter has lost its sign, or got one: it goes on with the same digits on the other side of nought.</summary>
internal static class LostCounterSigns
{
    private const int FewestDigits = 10;
    private const int Beside = 3;
    private const double MostMissed = 0.1;
    private const double LeastLeap = 3;

    /// <summary>Refuses a log whose counter does that.</summary>
    internal static void Check(LogColumns columns, ColumnRole charge, SessionMap map)
    {
        if (charge.Profile is not { Min: < 0, Max: > 0 } profile)
        {
            return;
        }

        double least = FewestDigits * Math.Pow(10, -charge.Column.MaxDecimals);
        if (profile.LargestStep < 2 * least)
        {
            return;
        }

        using var buffer = new RowBuffer(charge.Values.Max(block => block.Count));
        int start = 0;
        foreach (SampleBlock block in charge.Values)
        {
            LogColumns.Read(block, 1, buffer.Values);
            ReadOnlySpan<double> counted = buffer.Values.AsSpan(0, block.Count);
            for (int i = RowMath.NextStepOver(counted, 1, 2 * least); i < counted.Length; i = RowMath.NextStepOver(counted, i + 1, 2 * least))
            {
                if (IsMirrored(counted[i - 1], counted[i], least) && IsLeap(counted, i) && GoesOn(counted, i) && map.SegmentOf(start + i).Start < start + i)
                {
                    columns.Refuse(
                        "charge-disagrees", start + i, charge, "a charge counter that goes on with the other sign from here on",
                        "correct its signs, or export the log again; or let a reading guide leave the column out, by which its meaning is \"ignored\"");
                    return;
                }
            }

            start += block.Count;
        }
    }

    private static bool IsMirrored(double before, double now, double least) =>
        before * now < 0 && Math.Min(Math.Abs(before), Math.Abs(now)) > least && Math.Abs(Math.Abs(now) - Math.Abs(before)) < MostMissed * Math.Abs(now - before);

    // One that counts by large steps may well come to the other side by one of them.
    private static bool IsLeap(ReadOnlySpan<double> counted, int at)
    {
        double beside = Math.Max(at >= 2 ? Math.Abs(counted[at - 1] - counted[at - 2]) : 0, at + 1 < counted.Length ? Math.Abs(counted[at + 1] - counted[at]) : 0);
        return !(Math.Abs(counted[at] - counted[at - 1]) <= LeastLeap * beside);
    }

    // One value whose sign is damaged comes back.
    private static bool GoesOn(ReadOnlySpan<double> counted, int from)
    {
        for (int i = from + 1; i < counted.Length && i < from + Beside; i++)
        {
            if (counted[i] * counted[from] < 0)
            {
                return false;
            }
        }

        return true;
    }
}
