using System.Numerics;

namespace PackCare.Import.Meanings;

/// <summary>
/// Counts in how many moments each cell of a table with one row a cell and moment occurs. All moments of a pack have the same cells; what
/// occurs in few of them only is no cell, but a damaged number.
/// </summary>
internal sealed class CellTally
{
    private const int FewestMoments = 3;
    private const int Few = 10;
    private const int Part = 4;

    private readonly int _cells;
    private readonly Dictionary<string, Stretch> _stretches = new(StringComparer.Ordinal);
    private readonly List<Stretch> _all = [];

    internal CellTally(int cells) => _cells = cells;

    /// <summary>Counts a moment.</summary>
    /// <param name="pack">What names its pack and session.</param>
    /// <param name="begins">Whether a table begins anew with it.</param>
    /// <param name="seconds">Its time, in any unit that rises with time; a step back begins another session.</param>
    /// <param name="rows">The row, from 0, of each cell in it; negative where a cell is not in it.</param>
    internal void Add(string pack, bool begins, decimal seconds, ReadOnlySpan<int> rows)
    {
        if (!_stretches.TryGetValue(pack, out Stretch? stretch) || begins || seconds < stretch.Last)
        {
            stretch = new Stretch(_cells);
            _stretches[pack] = stretch;
            _all.Add(stretch);
        }

        stretch.Last = seconds;
        stretch.Moments++;
        ulong present = 0;
        for (int cell = 0; cell < _cells; cell++)
        {
            if (rows[cell] >= 0)
            {
                present |= 1UL << cell;
                stretch.Times[cell]++;
                stretch.First[cell] = stretch.First[cell] < 0 ? rows[cell] : Math.Min(stretch.First[cell], rows[cell]);
            }
        }

        stretch.Sets[present] = stretch.Sets.GetValueOrDefault(present) + 1;
    }

    /// <summary>The first row, from 0, whose cell number is damaged, with the position of that cell; null where there is none.</summary>
    internal (int Row, int Cell)? Damaged()
    {
        (int Row, int Cell)? first = null;
        foreach (Stretch stretch in _all.Where(stretch => stretch.Moments >= FewestMoments))
        {
            for (int cell = 0; cell < _cells; cell++)
            {
                if (stretch.Times[cell] > 0 && IsDamaged(stretch, cell) && (first is null || stretch.First[cell] < first.Value.Row))
                {
                    first = (stretch.First[cell], cell);
                }
            }
        }

        return first;
    }

    // Either in very few moments at all, or never beside all of the others: then it stands where another belongs.
    private static bool IsDamaged(Stretch stretch, int cell)
    {
        int times = stretch.Times[cell];
        if (times <= Math.Max(1, stretch.Moments / Few))
        {
            return true;
        }

        ulong usual = stretch.Sets.MaxBy(set => (set.Value, BitOperations.PopCount(set.Key))).Key;
        return times * Part <= stretch.Moments && (usual >> cell & 1) == 0
            && stretch.Sets.Keys.All(set => (set >> cell & 1) == 0 || (set & usual) != usual);
    }

    private sealed class Stretch(int cells)
    {
        internal int[] Times { get; } = new int[cells];

        internal int[] First { get; } = [.. Enumerable.Repeat(-1, cells)];

        internal Dictionary<ulong, int> Sets { get; } = [];

        internal int Moments { get; set; }

        internal decimal Last { get; set; } = decimal.MinValue;
    }
}
