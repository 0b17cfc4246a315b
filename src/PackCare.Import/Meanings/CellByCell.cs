using PackCare.Core.Samples;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>
/// Puts a table that has all rows of one cell, then all of the next, into the order of time. Rows are matched by their time, so that a
/// row that is missing is a gap and moves nothing; sessions or packs that follow each other are put in order each by itself.
/// </summary>
internal sealed class CellByCell
{
    private const int ShortRun = 2;
    private const double Even = 0.02;

    private readonly LogColumns _columns;
    private readonly ColumnRole _cellRole;
    private readonly ColumnRole _timeRole;
    private readonly int[] _cells;
    private readonly int[] _groups;
    private readonly int[] _times;
    private BlockCursor? _values;
    private BlockCursor? _dates;

    private CellByCell(LogColumns columns, ColumnRole cellRole, ColumnRole timeRole, int[] cells, int[] groups, int[] times)
    {
        _columns = columns;
        _cellRole = cellRole;
        _timeRole = timeRole;
        _cells = cells;
        _groups = groups;
        _times = times;
    }

    // Rows of one cell that follow each other.
    private sealed record Run(int From, int Length, int Cell, int Group);

    /// <summary>Whether rows stand cell by cell: the cell seldom changes from one row to the next.</summary>
    internal static bool Is(CellLabels labels) => labels.Count > 1 && labels.Changes() * 2 <= labels.Cells.Length;

    /// <summary>The table with rows of one moment side by side; null, with the problem told, where they do not belong together.</summary>
    /// <param name="columns">The table as written.</param>
    /// <param name="labels">The cell of each row.</param>
    /// <param name="cell">The column that names the cells.</param>
    /// <param name="time">The column that tells the time.</param>
    /// <param name="moments">The columns that tell the moment.</param>
    /// <param name="groups">The columns that tell packs and sessions apart.</param>
    internal static RawTable? MomentByMoment(LogColumns columns, CellLabels labels, ColumnRole cell, ColumnRole time, IEnumerable<ColumnRole> moments, IEnumerable<ColumnRole> groups)
    {
        var order = new CellByCell(columns, cell, time, labels.Cells, Ids(columns.Table.Rows, groups), Ids(columns.Table.Rows, moments));
        return order.Order(out List<int> starts) is { } rows ? SortedRows.Of(columns.Table, rows, columns.Table.Restarts.Count > 0 ? starts : []) : null;
    }

    // Rows that agree in all of these columns have one number.
    private static int[] Ids(int rows, IEnumerable<ColumnRole> roles)
    {
        int[] ids = new int[rows];
        foreach (ColumnRole role in roles)
        {
            IEnumerable<IReadOnlyList<SampleBlock>> parts = role.Column.Shape == ColumnShape.Time ? [role.Column.Values, role.Column.Dates] : [role.Column.Values];
            foreach (IReadOnlyList<SampleBlock> part in parts)
            {
                var known = new Dictionary<(int, decimal), int>();
                var cursor = new BlockCursor(part);
                for (int row = 0; row < rows; row++)
                {
                    (long scaled, int decimals) = cursor.At(row);
                    decimal value = scaled == BlockCodec.Missing ? decimal.MinValue : (decimal)scaled / (decimal)Math.Pow(10, decimals);
                    if (!known.TryGetValue((ids[row], value), out int id))
                    {
                        known[(ids[row], value)] = id = known.Count;
                    }

                    ids[row] = id;
                }
            }
        }

        return ids;
    }

    private int[]? Order(out List<int> starts)
    {
        starts = [];
        List<Run> runs = Runs();
        for (int r = 1; r + 1 < runs.Count; r++)
        {
            (Run before, Run run, Run after) = (runs[r - 1], runs[r], runs[r + 1]);
            if (run.Length <= ShortRun && before.Length + after.Length > 4 * ShortRun && before.Cell == after.Cell && before.Group == after.Group && run.Group == before.Group)
            {
                return Refuse("cell-numbers", run.From, _cellRole, "a row of another cell amidst the rows of one", "correct that line, or remove it");
            }
        }

        // The first rows of each cell make the first session of a pack, the second ones the next.
        var occurrences = new Dictionary<(int, int), int>();
        var sets = new Dictionary<(int Group, int Occurrence), List<Run>>();
        foreach (Run run in runs)
        {
            int occurrence = occurrences[(run.Group, run.Cell)] = occurrences.GetValueOrDefault((run.Group, run.Cell)) + 1;
            if (!sets.TryGetValue((run.Group, occurrence), out List<Run>? set))
            {
                sets[(run.Group, occurrence)] = set = [];
            }

            set.Add(run);
        }

        foreach (var group in sets.GroupBy(set => set.Key.Group))
        {
            int cells = group.Max(set => set.Value.Count);
            if (group.FirstOrDefault(set => set.Value.Count < cells) is { Value: { } lacking })
            {
                Run least = group.SelectMany(set => set.Value).MinBy(run => run.Length)!;
                return least.Length <= ShortRun && runs.Count > 2
                    ? Refuse("cell-numbers", least.From, _cellRole, "a row of another cell than its place among the others", "correct that line, or remove it")
                    : Refuse("long-layout", lacking[0].From, _cellRole, "rows of some of the cells only", "log all cells over the same time, or write one row a moment, with a column for each cell");
            }
        }

        int[] rows = new int[_cells.Length];
        int at = 0;
        foreach (List<Run> set in sets.Values.OrderBy(set => set[0].From))
        {
            starts.Add(at);
            if (Merge(set) is not { } moments)
            {
                return null;
            }

            foreach (int row in moments.SelectMany(moment => moment).Where(row => row >= 0))
            {
                rows[at++] = row;
            }
        }

        starts.RemoveAt(0);
        return rows;
    }

    private int[]? Refuse(string code, int row, ColumnRole role, string found, string advice)
    {
        _columns.Refuse(code, row, role, found, advice);
        return null;
    }

    private List<Run> Runs()
    {
        var restarts = new HashSet<int>(_columns.Table.Restarts);
        var runs = new List<Run>();
        int from = 0;
        for (int row = 1; row <= _cells.Length; row++)
        {
            bool ends = row == _cells.Length || _cells[row] != _cells[from] || _groups[row] != _groups[from] || restarts.Contains(row)
                || (_times[row] == _times[from] && _times[row] != _times[row - 1]);
            if (ends)
            {
                runs.Add(new Run(from, row - from, _cells[from], _groups[from]));
                from = row;
            }
        }

        return runs;
    }

    // The moments in order, each with the row of each cell, or -1 where it has none.
    private List<int[]>? Merge(List<Run> set)
    {
        Run[] runs = [.. set.OrderBy(run => run.Cell)];
        List<int[]> moments = [.. Enumerable.Range(runs[0].From, runs[0].Length).Select(row => Moment(0, row))];
        for (int c = 1; c < runs.Length; c++)
        {
            Dictionary<int, int> lastOfRun = Last(Enumerable.Range(runs[c].From, runs[c].Length).Select(row => _times[row]));
            Dictionary<int, int> lastOfMoments = Last(moments.Select(TimeOf));
            var merged = new List<int[]>(moments.Count);
            int i = 0;
            int j = 0;
            int skipped = 0;
            int matched = 0;
            while (i < moments.Count || j < runs[c].Length)
            {
                int row = runs[c].From + j;
                if (i < moments.Count && j < runs[c].Length && TimeOf(moments[i]) == _times[row])
                {
                    moments[i][c] = row;
                    merged.Add(moments[i++]);
                    j++;
                    matched++;
                    continue;
                }

                bool comesInMoments = j < runs[c].Length && lastOfMoments.TryGetValue(_times[row], out int inMoments) && inMoments >= i;
                bool comesInRun = i < moments.Count && lastOfRun.TryGetValue(TimeOf(moments[i]), out int inRun) && inRun >= j;
                if (i < moments.Count && j < runs[c].Length && !comesInMoments && !comesInRun && AreBothMoments(set, row, moments[i], merged))
                {
                    skipped++;
                    bool rowIsFirst = Value(row) < Value(moments[i]);
                    merged.Add(rowIsFirst ? Moment(c, row) : moments[i]);
                    (i, j) = rowIsFirst ? (i, j + 1) : (i + 1, j);
                    continue;
                }

                if (i < moments.Count && j < runs[c].Length && comesInMoments == comesInRun)
                {
                    // Neither has what the other has at this place, or they have it in another order.
                    int odd = matched * 2 < j || IsOdd(runs, row, moments[i]) ? row : Array.Find(moments[i], one => one >= 0);
                    bool wholly = matched * 2 < j || (j < 2 && runs[c].Length > 2 && i + 1 < moments.Count && TimeOf(moments[i + 1]) != _times[row + 1]);
                    Refuse("long-layout", odd, _timeRole, wholly ? "cells whose rows have unlike times" : "a row whose time no other cell has, and that lacks theirs", wholly ? "write one row a moment, with a column for each cell" : "correct that line, or remove it");
                    return null;
                }

                if (i < moments.Count && !comesInRun)
                {
                    skipped++;
                    merged.Add(moments[i++]);
                    continue;
                }

                if (lastOfMoments.ContainsKey(_times[row]))
                {
                    Refuse("long-layout", Math.Max(runs[c].From, row - 1), _timeRole, "a row whose time is out of its order", "correct that line, or remove it");
                    return null;
                }

                skipped++;
                merged.Add(Moment(c, row));
                j++;
            }

            if (skipped > matched)
            {
                Refuse("long-layout", runs[c].From, _timeRole, "cells whose rows have unlike times", "write one row a moment, with a column for each cell");
                return null;
            }

            moments = merged;
        }

        return moments;

        int[] Moment(int cell, int row)
        {
            int[] moment = new int[runs.Length];
            Array.Fill(moment, -1);
            moment[cell] = row;
            return moment;
        }

        int TimeOf(int[] moment) => _times[Array.Find(moment, row => row >= 0)];
    }

    // Two times of which each side lacks the other's: both are moments where several cells have each, or where both keep the beat of the clock.
    private bool AreBothMoments(List<Run> set, int row, int[] moment, List<int[]> merged)
    {
        int other = Array.Find(moment, one => one >= 0);
        if (Value(row) == Value(other))
        {
            return false;
        }

        if (set.Count > 2 && Having(_times[row]) > 1 && Having(_times[other]) > 1)
        {
            return true;
        }

        Run longest = set.MaxBy(run => run.Length)!;
        double[] steps = [.. Enumerable.Range(longest.From + 1, longest.Length - 1).Select(at => Value(at) - Value(at - 1)).Order()];
        double beat = steps.Length == 0 ? 0 : steps[steps.Length / 2];
        double first = merged.Count > 0 ? Value(merged[^1]) : Value(longest.From);
        return beat > 0 && KeepsBeat(Value(row) - first) && KeepsBeat(Value(other) - first);

        int Having(int time) => set.Count(run => _times.AsSpan(run.From, run.Length).Contains(time));

        bool KeepsBeat(double since) => since >= 0 && Math.Abs(since - (beat * Math.Round(since / beat))) <= Even * beat;
    }

    private double Value(int[] moment) => Value(Array.Find(moment, row => row >= 0));

    private double Value(int row)
    {
        const double Day = 86_400e9;
        (long scaled, int decimals) = (_values ??= new BlockCursor(_timeRole.Column.Values)).At(row);
        long date = _timeRole.Column.Shape == ColumnShape.Time ? (_dates ??= new BlockCursor(_timeRole.Column.Dates)).At(row).Scaled : BlockCodec.Missing;
        return (scaled / Math.Pow(10, decimals)) + (date == BlockCodec.Missing ? 0 : date * Day);
    }

    // Of two times in the place of one, the odd one is what fewer cells have, or else what breaks the step of the rows beside it.
    private bool IsOdd(Run[] runs, int row, int[] moment)
    {
        int other = Array.Find(moment, one => one >= 0);
        int its = runs.Count(run => _times.AsSpan(run.From, run.Length).Contains(_times[row]));
        int others = runs.Count(run => _times.AsSpan(run.From, run.Length).Contains(_times[other]));
        if (its != others || row == 0 || other == 0)
        {
            return its <= others;
        }

        return Bend(row) >= Bend(other);

        double Bend(int at) => at + 1 >= _times.Length ? 0 : Math.Abs(Value(at + 1) - (2 * Value(at)) + Value(at - 1));
    }

    private static Dictionary<int, int> Last(IEnumerable<int> times)
    {
        var last = new Dictionary<int, int>();
        int at = 0;
        foreach (int time in times)
        {
            last[time] = at++;
        }

        return last;
    }
}
