namespace PackCare.Import.Meanings;

/// <summary>
/// Finds a moment of which one row has another time: the cells that it lacks stand in a moment of their own beside it, and the two share
/// the time of one; or the time comes back behind that row.
/// </summary>
/// <param name="cells">How many cells a moment has.</param>
internal sealed class TornMoments(int cells)
{
    private const double Even = 0.02;

    private readonly (int Present, long Mask, long Line, double Time)[] _last = new (int, long, long, double)[4];
    private int _count;

    /// <summary>The first line with a time of its own; null where there is none.</summary>
    internal int? Line { get; private set; }

    /// <summary>Takes in the next moment.</summary>
    /// <param name="seen">Which cells it has.</param>
    /// <param name="line">Its first line.</param>
    /// <param name="time">Its time, in any unit.</param>
    internal void Add(bool[] seen, long line, double time)
    {
        long mask = 0;
        int present = 0;
        for (int cell = 0; cell < seen.Length; cell++)
        {
            mask |= seen[cell] ? 1L << cell : 0;
            present += seen[cell] ? 1 : 0;
        }

        Array.Copy(_last, 1, _last, 0, 3);
        _last[3] = (present, mask, line, time);
        _count++;
        if (Line is not null)
        {
            return;
        }

        (int Present, long Mask, long Line, double Time) inner = _last[2];
        if (_count >= 3 && _last[1].Time == time && inner.Time != time && (_last[1].Mask & inner.Mask) == 0 && ((_last[1].Mask | inner.Mask) & mask) == 0)
        {
            Line = (int)inner.Line;
            return;
        }

        if (_count < 4)
        {
            return;
        }

        var (before, one, other, after) = (_last[0], _last[1], _last[2], _last[3]);
        if (one.Present + other.Present != cells || (one.Mask & other.Mask) != 0)
        {
            return;
        }

        // Rows that are merely missing leave two moments an ordinary step apart.
        double step = other.Time - one.Time;
        double due = (before.Time + after.Time) / 2;
        bool isEven = Math.Abs(one.Time - before.Time - step) <= Even * step && Math.Abs(after.Time - other.Time - step) <= Even * step;
        if (!isEven && !double.IsNaN(due))
        {
            bool otherIsOdd = one.Present != other.Present && cells > 2 ? other.Present < one.Present : Math.Abs(other.Time - due) > Math.Abs(one.Time - due);
            Line = (int)(otherIsOdd ? other.Line : one.Line);
        }
    }
}
