namespace PackCare.Import.Text;

/// <summary>Reads another stream and leaves it open, so that a log can be read more than once.</summary>
internal sealed class KeptOpenStream(Stream inner) : ForwardStream
{
    /// <inheritdoc/>
    public override int Read(Span<byte> buffer) => inner.Read(buffer);
}
