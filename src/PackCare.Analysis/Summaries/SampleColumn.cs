using System.Buffers;
using System.Runtime.CompilerServices;
using PackCare.Core.Samples;

namespace PackCare.Analysis.Summaries;

/// <summary>
/// One channel of a session by sample number, NaN where there was no reading. Only the two stretches used last are held
/// unpacked, so that memory stays flat however long the session is; made to be walked through, not jumped about in.
/// </summary>
/// <param name="length">How many samples.</param>
/// <param name="fill">Fills one page, <see cref="PageRows"/> samples from a multiple of it on; what it is given may be longer.</param>
internal sealed class SampleColumn(int length, Action<int, double[]> fill) : IDisposable
{
    /// <summary>How many samples a page holds, the last one excepted: those of a stored block.</summary>
    public const int PageRows = Channel.BlockRows;

    private double[] _page = [];
    private int _first = -1;
    private int _held;
    private double[] _spare = [];
    private int _spareFirst = -1;
    private ColumnFigures? _figures;

    /// <summary>How many samples.</summary>
    public int Length => length;

    /// <summary>How many pages.</summary>
    public int Pages => (length + PageRows - 1) / PageRows;

    /// <summary>Figures of the whole column, found in one walk through it.</summary>
    public ColumnFigures Figures => _figures ??= ColumnFigures.Of(this);

    /// <summary>A sample from 0.</summary>
    public double this[int sample]
    {
        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        get
        {
            int at = sample - _first;
            return (uint)at < (uint)_held ? _page[at] : Fetch(sample);
        }
    }

    /// <summary>A stored channel, in the unit of its kind.</summary>
    /// <exception cref="InvalidDataException">A block is damaged.</exception>
    public static SampleColumn? Of(Channel? channel) => channel is null ? null
        : new SampleColumn(channel.Count, (page, into) => channel.ReadBlock(page, into));

    /// <summary>One page; valid until two others were used.</summary>
    public ReadOnlySpan<double> Page(int page)
    {
        int first = page * PageRows;
        if (first != _first)
        {
            Turn(first);
        }

        return _page.AsSpan(0, _held);
    }

    /// <summary>Takes over a page that is filled already.</summary>
    /// <param name="page">Which one.</param>
    /// <param name="filled">Its samples, in an array lent by the shared pool.</param>
    public void Hold(int page, double[] filled)
    {
        Dispose();
        (_page, _first) = (filled, page * PageRows);
        _held = Math.Min(PageRows, length - _first);
    }

    /// <summary>Gives the memory of its pages back; the column may still be read, and takes some again.</summary>
    public void Dispose()
    {
        foreach (double[] page in (double[][])[_page, _spare])
        {
            if (page.Length > 0)
            {
                ArrayPool<double>.Shared.Return(page);
            }
        }

        (_page, _spare) = ([], []);
        (_first, _spareFirst, _held) = (-1, -1, 0);
    }

    private double Fetch(int sample)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(sample);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(sample, length);
        int first = sample / PageRows * PageRows;
        Turn(first);
        return _page[sample - first];
    }

    private void Turn(int first)
    {
        (_page, _spare) = (_spare, _page);
        (_first, _spareFirst) = (_spareFirst, _first);
        _held = Math.Min(PageRows, length - first);
        if (_first != first)
        {
            if (_page.Length == 0)
            {
                _page = ArrayPool<double>.Shared.Rent(Math.Min(length, PageRows));
            }

            fill(first / PageRows, _page);
            _first = first;
        }
    }
}
