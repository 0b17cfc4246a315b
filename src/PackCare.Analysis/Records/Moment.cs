namespace PackCare.Analysis.Records;

/// <summary>
/// The moment for which a pack is judged. It answers every question of time that a judgement asks, and notes from when
/// until when all of its answers stay the same, so that the judgement can be kept for so long.
/// </summary>
internal sealed class Moment(DateTimeOffset now)
{
    // Days are fractions in binary: near the edge the answer is not kept.
    private static readonly TimeSpan Margin = TimeSpan.FromSeconds(1);

    /// <summary>The moment itself: only for figures that pass on with it, and that are never kept.</summary>
    public DateTimeOffset Now { get; } = now;

    /// <summary>From when on all answers hold.</summary>
    public DateTimeOffset HoldsFrom { get; private set; } = DateTimeOffset.MinValue;

    /// <summary>The first moment from which one may be another.</summary>
    public DateTimeOffset HoldsUntil { get; private set; } = DateTimeOffset.MaxValue;

    /// <summary>Whether something lies in the past, or is at this very moment.</summary>
    public bool HasCome(DateTimeOffset at)
    {
        bool come = at <= Now;
        Note(come, at, at);
        return come;
    }

    /// <summary>Whether more than so many days have gone by since.</summary>
    public bool IsPast(DateTimeOffset since, double days)
    {
        bool past = (Now - since).TotalDays > days;
        var edge = TimeSpan.FromDays(days);
        Note(past, Shift(since, edge + Margin), Shift(since, edge - Margin));
        return past;
    }

    /// <summary>Says that an answer rests on the moment itself, and does not hold beyond it.</summary>
    public void HoldsForNowOnly() => HoldsUntil = DateTimeOffset.MinValue;

    private void Note(bool past, DateTimeOffset from, DateTimeOffset until)
    {
        if (past && from > HoldsFrom)
        {
            HoldsFrom = from;
        }
        else if (!past && until < HoldsUntil)
        {
            HoldsUntil = until;
        }
    }

    private static DateTimeOffset Shift(DateTimeOffset moment, TimeSpan by)
    {
        long ticks = Math.Clamp(moment.UtcTicks + by.Ticks, DateTimeOffset.MinValue.UtcTicks, DateTimeOffset.MaxValue.UtcTicks);
        return new DateTimeOffset(ticks, TimeSpan.Zero);
    }
}
