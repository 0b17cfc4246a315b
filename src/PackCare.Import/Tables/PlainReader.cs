namespace PackCare.Import.Tables;

/// <summary>
/// Reads the rows of a log that need no CSV rules, a stretch at a time, and says where the first other line stands, so that
/// the CSV reader goes on from there. Stretches that follow are looked at meanwhile on other threads.
/// </summary>
/// <param name="text">The text from the first row on, as UTF-8.</param>
/// <param name="delimiter">The delimiter, one byte of ASCII.</param>
/// <param name="mark">The decimal mark.</param>
/// <param name="width">How many fields a row has.</param>
/// <param name="firstLine">Line number of the first row.</param>
/// <param name="expect">Says of each stretch which numbers of it are to be read ahead.</param>
internal sealed class PlainReader(Stream text, byte delimiter, byte mark, int width, int firstLine, Action<PlainRows> expect)
{
    private static readonly int MostAhead = Math.Clamp(Environment.ProcessorCount + 1, 2, 8);

    private readonly Queue<(PlainRows Rows, Task Look)> _ahead = [];
    private readonly Stack<PlainRows> _spare = [];
    private PlainRows? _present;
    private byte[] _rest = [];
    private bool _ended;

    /// <summary>How far the rows taken so far reach, in bytes from the first row on.</summary>
    internal long Offset { get; private set; }

    /// <summary>The number of the line that begins there.</summary>
    internal int NextLine { get; private set; } = firstLine;

    /// <summary>The rows of the next stretch, which may be none; null where no plain row follows.</summary>
    internal PlainRows? Next()
    {
        if (_present is { } done)
        {
            (Offset, NextLine) = (Offset + done.Length, NextLine + done.LineCount);
            _spare.Push(done);
            if (done.Stops)
            {
                return _present = null;
            }
        }

        // Of the first stretch it is not known yet what to expect.
        int most = _present is null ? 1 : MostAhead;
        while (_ahead.Count < most && Fill() is { } filled)
        {
            expect(filled);
            _ahead.Enqueue((filled, most == 1 ? Task.CompletedTask : Task.Run(() => filled.Look(mark))));
        }

        if (!_ahead.TryDequeue(out (PlainRows Rows, Task Look) next))
        {
            return _present = null;
        }

        if (most == 1)
        {
            next.Rows.Look(mark);
        }

        next.Look.GetAwaiter().GetResult();
        next.Rows.CountFrom(NextLine);
        return _present = next.Rows;
    }

    private PlainRows? Fill()
    {
        if (_ended)
        {
            return null;
        }

        PlainRows rows = _spare.TryPop(out PlainRows? spare) ? spare : new PlainRows(delimiter, width);
        _ended = !rows.Fill(_rest, text, out ReadOnlySpan<byte> rest);
        _rest = rest.ToArray();
        return _ended ? null : rows;
    }
}
