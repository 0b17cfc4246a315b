using PackCare.Core.Samples;
using PackCare.Import.Sessions;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>The rows of packs that take turns, session by session, so that each stands beside those that it goes on from.</summary>
internal sealed class Untangled
{
    // Longer logs are looked at as they are.
    private const int MostRows = 200_000;

    private readonly int[] _rows;

    private Untangled(int[] rows, SessionMap map) => (_rows, Map) = (rows, map);

    /// <summary>The sessions in the order of these rows.</summary>
    internal SessionMap Map { get; }

    /// <summary>Sorts the rows of a log; null where no packs take turns in it, or it is too long.</summary>
    internal static Untangled? Of(SessionMap map)
    {
        int count = map.Segments[^1].End;
        if (map.Segments.Count == map.Count || count > MostRows)
        {
            return null;
        }

        int[] rows = new int[count];
        var segments = new List<Segment>();
        int at = 0;
        foreach (IGrouping<int, Segment> session in map.Segments.GroupBy(segment => segment.Session).OrderBy(group => group.Key))
        {
            int start = at;
            foreach (Segment segment in session)
            {
                for (int row = segment.Start; row < segment.End; row++)
                {
                    rows[at++] = row;
                }
            }

            segments.Add(new Segment(start, at, session.Key));
        }

        return new Untangled(rows, new SessionMap(segments, map.Labels));
    }

    /// <summary>The row of the log, from 0, that has a place in this order.</summary>
    internal int RowOf(int place) => _rows[place];

    /// <summary>A column in this order.</summary>
    internal ColumnRole RoleOf(ColumnRole role)
    {
        var values = new BlockCursor(role.Values);
        var writer = new ChannelWriter(ChannelKey.Time);
        foreach (int row in _rows)
        {
            (long scaled, int decimals) = values.At(row);
            if (scaled == BlockCodec.Missing || !writer.TryAppend(scaled, decimals))
            {
                writer.AppendMissing();
            }
        }

        var sorted = new ColumnRole(role.Column, role.Header, role.Hint, null);
        sorted.Take(role.Meaning, role.Unit, role.Number, role.Why);
        sorted.Replace(writer.ToChannel().Blocks);
        return sorted;
    }
}
