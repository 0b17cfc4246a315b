using PackCare.Import.Text;

namespace PackCare.Import.Archives;

/// <summary>Reads a stream and, once that ends, some bytes behind it.</summary>
internal sealed class AppendedStream(Stream inner, byte[] tail) : ForwardStream
{
    private int _taken;

    /// <inheritdoc/>
    public override int Read(Span<byte> buffer)
    {
        int read = inner.Read(buffer);
        if (read == 0)
        {
            read = Math.Min(buffer.Length, tail.Length - _taken);
            tail.AsSpan(_taken, read).CopyTo(buffer);
            _taken += read;
        }

        return read;
    }
}
