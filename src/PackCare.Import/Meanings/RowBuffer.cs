using System.Buffers;

namespace PackCare.Import.Meanings;

/// <summary>Room for the numbers of a block, lent again and again: a long log is walked through many times. What it holds at first is anything.</summary>
/// <param name="rows">For how many rows, at least.</param>
internal readonly struct RowBuffer(int rows) : IDisposable
{
    /// <summary>The room.</summary>
    internal double[] Values { get; } = rows == 0 ? [] : ArrayPool<double>.Shared.Rent(rows);

    /// <inheritdoc/>
    public void Dispose()
    {
        if (Values.Length > 0)
        {
            ArrayPool<double>.Shared.Return(Values);
        }
    }
}
