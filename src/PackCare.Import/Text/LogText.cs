using System.Text;

namespace PackCare.Import.Text;

/// <summary>A log as text: its encoding settled over every byte, its lines counted.</summary>
internal sealed class LogText
{
    private readonly Stream _bytes;
    private readonly long _start;
    private readonly Encoding? _encoding;

    internal LogText(Stream bytes, long start, Encoding? encoding, string encodingName, int lines, bool endsWithLineEnd)
    {
        _bytes = bytes;
        _start = start;
        _encoding = encoding;
        EncodingName = encodingName;
        Lines = lines;
        EndsWithLineEnd = endsWithLineEnd;
    }

    /// <summary>The encoding's name as IANA registers it.</summary>
    internal string EncodingName { get; }

    /// <summary>How many lines there are; CR, LF and CR LF each end one.</summary>
    internal int Lines { get; }

    /// <summary>Whether the last line is ended like the others.</summary>
    internal bool EndsWithLineEnd { get; }

    /// <summary>Whether the text had to be taken for Windows-1252 because it is not UTF-8.</summary>
    internal bool IsLegacy => EncodingName == "windows-1252";

    /// <summary>Opens the text as UTF-8 without a byte order mark.</summary>
    /// <param name="offset">Where to start, in bytes of the UTF-8 form.</param>
    internal Stream Open(long offset)
    {
        if (_encoding is null)
        {
            _bytes.Position = _start + offset;
            return new KeptOpenStream(_bytes);
        }

        _bytes.Position = _start;
        Stream utf8 = Encoding.CreateTranscodingStream(_bytes, _encoding, new UTF8Encoding(false), leaveOpen: true);
        Span<byte> skipped = stackalloc byte[4096];
        while (offset > 0)
        {
            int read = utf8.Read(skipped[..(int)Math.Min(skipped.Length, offset)]);
            if (read == 0)
            {
                break;
            }

            offset -= read;
        }

        return utf8;
    }

    /// <summary>Reads a part of the text while another reader is under way, which goes on where it was.</summary>
    /// <param name="from">Where it starts, in bytes of the UTF-8 form.</param>
    /// <param name="count">How many bytes, or fewer at the end.</param>
    internal byte[] Part(long from, int count)
    {
        long position = _bytes.Position;
        using Stream text = Open(from);
        byte[] part = new byte[count];
        int length = text.ReadAtLeast(part, count, throwOnEndOfStream: false);
        _bytes.Position = position;
        return part[..length];
    }

    /// <summary>Reads the beginning of the text, cut after the last line end where it is longer.</summary>
    /// <param name="limit">At most that many bytes.</param>
    /// <param name="whole">Whether that is all there is.</param>
    internal byte[] Head(int limit, out bool whole)
    {
        using Stream text = Open(0);
        byte[] buffer = new byte[limit + 1];
        int length = text.ReadAtLeast(buffer, buffer.Length, throwOnEndOfStream: false);
        whole = length <= limit;
        if (!whole)
        {
            int end = buffer.AsSpan(0, limit).LastIndexOfAny((byte)'\n', (byte)'\r');
            length = end < 0 ? limit : end + 1;
        }

        return buffer[..length];
    }
}
