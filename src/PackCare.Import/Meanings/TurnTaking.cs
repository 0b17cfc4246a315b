using PackCare.Core.Samples;
using PackCare.Import.Sessions;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>Finds logs in which packs or cells take turns row by row, told apart by a column whose meaning is unknown.</summary>
internal static class TurnTaking
{
    /// <summary>Refuses a log whose times repeat while an unexplained column changes: its rows are of different things.</summary>
    internal static void Check(LogColumns columns, TimeAxis axis, SessionMap map, ColumnRole time)
    {
        List<ColumnRole> unexplained =
        [
            .. columns.Roles.Where(role => !role.IsUsed && !role.Hint.IsDerived
                && ((role.Column.Shape == ColumnShape.Text && role.Column.Words.Count is > 1 and <= 64) || (role.Profile is { Count: > 1, IsConstant: false, Min: >= 0, Max: <= 64 } && role.Column.MaxDecimals == 0))),
        ];
        if (unexplained.Count == 0)
        {
            return;
        }

        int repeats = 0;
        var changes = new int[unexplained.Count];
        var previous = new long[unexplained.Count];
        double before = double.NaN;
        int rows = 0;
        long[] scaled = new long[Channel.BlockRows];
        double[] seconds = axis.Seconds(0);
        var values = new long[unexplained.Count][];
        for (int c = 0; c < unexplained.Count; c++)
        {
            BlockCodec.Decode(unexplained[c].Values[0], scaled);
            values[c] = scaled.AsSpan(0, seconds.Length).ToArray();
        }

        for (int i = 0; i < seconds.Length; i++, rows++)
        {
            bool repeat = seconds[i] == before;
            repeats += repeat ? 1 : 0;
            for (int c = 0; c < unexplained.Count; c++)
            {
                changes[c] += repeat && values[c][i] != previous[c] ? 1 : 0;
                previous[c] = values[c][i];
            }

            before = seconds[i];
        }

        _ = map;
        int worst = Array.IndexOf(changes, changes.Max());
        if (repeats * 4 > rows && changes[worst] * 2 > repeats)
        {
            columns.Refuse("rows-take-turns", 0, unexplained[worst], $"times that repeat while column {unexplained[worst].Column.Index + 1} changes: rows of different packs or cells", "head that column pack or cell, or write one file a pack");
            return;
        }

        _ = time;
    }
}
