using System.Text;
using System.Text.Unicode;
using PackCare.Core.Reading;

namespace PackCare.Import.Text;

/// <summary>
/// Settles a log's encoding from all of its bytes: byte order mark, UTF-16 by where its NULs lie, strict UTF-8,
/// else Windows-1252. Damage is found here, before any of it can pass for text.
/// </summary>
internal static class TextProbe
{
    private const int ChunkBytes = 1 << 16;

    /// <summary>Probes a log.</summary>
    /// <param name="bytes">The log; seekable.</param>
    /// <param name="guided">The encoding by which a guide says it is written, or null.</param>
    /// <param name="problem">Why it is no text, or null.</param>
    /// <param name="lines">How many lines it has, also where it is refused.</param>
    internal static LogText? Probe(Stream bytes, string? guided, out InputProblem? problem, out int lines)
    {
        problem = null;
        switch (guided)
        {
            case "windows-1252":
                return Transcoded(bytes, 0, CodePagesEncodingProvider.Instance.GetEncoding(1252)!, guided, out problem, out lines);
            case "utf-16le" or "utf-16be":
                byte[] first = new byte[2];
                bytes.Position = 0;
                bytes.ReadAtLeast(first, 2, throwOnEndOfStream: false);
                return Transcoded(bytes, first is [0xFF, 0xFE] or [0xFE, 0xFF] ? 2 : 0, new UnicodeEncoding(guided == "utf-16be", false, true), guided, out problem, out lines);
        }

        byte[] mark = new byte[4];
        bytes.Position = 0;
        int marked = bytes.ReadAtLeast(mark, 4, throwOnEndOfStream: false);
        if (marked >= 4 && (mark is [0xFF, 0xFE, 0, 0] or [0, 0, 0xFE, 0xFF]))
        {
            return Transcoded(bytes, 4, new UTF32Encoding(mark[0] == 0, false, true), mark[0] == 0 ? "utf-32be" : "utf-32le", out problem, out lines);
        }

        if (marked >= 2 && mark[0] == 0xFF && mark[1] == 0xFE)
        {
            return Transcoded(bytes, 2, new UnicodeEncoding(false, false, true), "utf-16le", out problem, out lines);
        }

        if (marked >= 2 && mark[0] == 0xFE && mark[1] == 0xFF)
        {
            return Transcoded(bytes, 2, new UnicodeEncoding(true, false, true), "utf-16be", out problem, out lines);
        }

        int start = marked >= 3 && mark[0] == 0xEF && mark[1] == 0xBB && mark[2] == 0xBF ? 3 : 0;
        Scan scan = ScanBytes(bytes, start);
        lines = scan.Lines;
        if (scan.Length == 0)
        {
            problem = new InputProblem("empty", ProblemLevel.Refusal, null, null, "the file is empty", "export the log again");
            return null;
        }

        if (scan.EvenNuls + scan.OddNuls > 0)
        {
            long pairs = scan.Length / 2;
            bool little = scan.OddNuls > pairs / 2 && scan.EvenNuls == 0;
            bool big = scan.EvenNuls > pairs / 2 && scan.OddNuls == 0;
            if (start == 0 && (little || big))
            {
                return Transcoded(bytes, 0, new UnicodeEncoding(big, false, true), big ? "utf-16be" : "utf-16le", out problem, out lines);
            }

            problem = new InputProblem(
                "nul-bytes", ProblemLevel.Refusal, scan.FirstNulLine, null, "NUL bytes: the file is damaged here or is no text", "export the log again, or copy it again from the card");
            return null;
        }

        if (scan.ControlBytes > 0)
        {
            problem = new InputProblem(
                "control-bytes", ProblemLevel.Refusal, scan.FirstControlLine, null, "control bytes that no text has: the file is damaged here or is no text", "export the log again");
            return null;
        }

        if (scan.FirstInvalidLine == 0)
        {
            return new LogText(bytes, start, null, scan.Ascii && start == 0 ? "us-ascii" : "utf-8", lines, scan.EndsWithLineEnd);
        }

        int undefined = 0;
        bool isLegacy = start == 0 && guided is null && HasNoSequences(bytes, out undefined);
        if (isLegacy && undefined == 0)
        {
            return new LogText(bytes, 0, CodePagesEncodingProvider.Instance.GetEncoding(1252)!, "windows-1252", lines, scan.EndsWithLineEnd);
        }

        // Where all other bytes are Windows-1252, the damage is the one that it does not have.
        problem = isLegacy ? new InputProblem(
            "invalid-utf8", ProblemLevel.Refusal, undefined, null, "a byte that is valid neither in UTF-8 nor in Windows-1252, as which the rest of the file could be read", "export the log again, or repair that line") : new InputProblem(
            "invalid-utf8", ProblemLevel.Refusal, scan.FirstInvalidLine, null, "a byte that is not valid UTF-8, in a file that is UTF-8 elsewhere", "export the log again, or repair that line");
        return null;
    }

    private static LogText? Transcoded(Stream bytes, int start, Encoding encoding, string name, out InputProblem? problem, out int lines)
    {
        problem = null;
        lines = 0;
        var text = new LogText(bytes, start, encoding, name, 0, false);
        try
        {
            using Stream utf8 = text.Open(0);
            Scan scan = ScanBytes(utf8, null);
            lines = scan.Lines;
            if (scan.Length == 0)
            {
                problem = new InputProblem("empty", ProblemLevel.Refusal, null, null, "the file is empty", "export the log again");
                return null;
            }

            if (scan.EvenNuls + scan.OddNuls > 0 || scan.ControlBytes > 0)
            {
                problem = new InputProblem(
                    "nul-bytes", ProblemLevel.Refusal, scan.FirstNulLine > 0 ? scan.FirstNulLine : scan.FirstControlLine, null, "NUL or control characters: the file is damaged here", "export the log again");
                return null;
            }

            return new LogText(bytes, start, encoding, name, lines, scan.EndsWithLineEnd);
        }
        catch (DecoderFallbackException)
        {
            (lines, int line) = LinesAround(bytes, start, name == "utf-16be");
            problem = new InputProblem("invalid-" + name, ProblemLevel.Refusal, line, null, $"bytes that are not valid {name}", "export the log again");
            return null;
        }
    }

    // How many lines a damaged UTF-16 text has, and the first with half a character: a surrogate without its other half, or an odd byte at the end.
    private static (int Lines, int Damaged) LinesAround(Stream bytes, int start, bool bigEndian)
    {
        bytes.Position = start;
        using var buffered = new BufferedStream(new KeptOpenStream(bytes), ChunkBytes);
        int lines = 1;
        int damaged = 0;
        int last = '\n';
        while (true)
        {
            int one = buffered.ReadByte();
            int two = one < 0 ? -1 : buffered.ReadByte();
            int unit = two < 0 ? -1 : bigEndian ? (one << 8) | two : (two << 8) | one;
            bool isLow = unit is >= 0xDC00 and < 0xE000;
            if (damaged == 0 && ((last is >= 0xD800 and < 0xDC00) != isLow || (one >= 0 && two < 0)))
            {
                damaged = lines;
            }

            if (unit < 0)
            {
                lines -= last is '\n' or '\r' ? 1 : 0;
                return (Math.Max(lines, 1), damaged > 0 ? damaged : Math.Max(lines, 1));
            }

            lines += unit == '\r' || (unit == '\n' && last != '\r') ? 1 : 0;
            last = unit;
        }
    }

    // Whether there is no valid multi-byte sequence at all, and the first line with one of the five bytes that Windows-1252 leaves undefined; 0 for none.
    private static bool HasNoSequences(Stream bytes, out int undefined)
    {
        undefined = 0;
        int lines = 1;
        byte last = 0;
        bytes.Position = 0;
        byte[] chunk = new byte[ChunkBytes];
        int kept = 0;
        while (true)
        {
            int read = bytes.Read(chunk.AsSpan(kept));
            ReadOnlySpan<byte> span = chunk.AsSpan(0, kept + read);
            foreach (byte one in undefined > 0 ? [] : span[kept..])
            {
                if (TextBytes.UndefinedInWindows1252.Contains(one))
                {
                    undefined = lines;
                    break;
                }

                lines += one == '\r' || (one == '\n' && last != '\r') ? 1 : 0;
                last = one;
            }

            int at = 0;
            while (at < span.Length)
            {
                int high = span[at..].IndexOfAnyExceptInRange((byte)0, (byte)0x7F);
                if (high < 0)
                {
                    at = span.Length;
                    break;
                }

                at += high;
                if (read > 0 && span.Length - at < 4)
                {
                    break;
                }

                var status = Rune.DecodeFromUtf8(span[at..], out _, out int consumed);
                if (status == System.Buffers.OperationStatus.Done)
                {
                    return false;
                }

                at += Math.Max(1, Math.Min(consumed, 1));
            }

            if (read == 0)
            {
                return true;
            }

            kept = span.Length - at;
            span[at..].CopyTo(chunk);
        }
    }

    private static Scan ScanBytes(Stream bytes, long? from)
    {
        if (from is long position)
        {
            bytes.Position = position;
        }

        var scan = new Scan();
        byte[] chunk = new byte[ChunkBytes];
        int kept = 0;
        while (true)
        {
            int read = bytes.ReadAtLeast(chunk.AsSpan(kept), chunk.Length - kept, throwOnEndOfStream: false);
            if (read == 0)
            {
                scan.Finish(chunk.AsSpan(0, kept));
                return scan;
            }

            ReadOnlySpan<byte> fresh = chunk.AsSpan(kept, read);
            if (kept == 0 && scan.TryTakePlain(fresh))
            {
                continue;
            }

            scan.Count(fresh);
            kept = scan.Validate(chunk.AsSpan(0, kept + read), chunk);
        }
    }

    private sealed class Scan
    {
        private bool _lastWasReturn;
        private int _breaks;
        private byte _last;
        private int _validatedBreaks;
        private bool _validatedReturn;

        internal long Length { get; private set; }

        internal long EvenNuls { get; private set; }

        internal long OddNuls { get; private set; }

        internal int FirstNulLine { get; private set; }

        internal long ControlBytes { get; private set; }

        internal int FirstControlLine { get; private set; }

        internal int FirstInvalidLine { get; private set; }

        internal bool Ascii { get; private set; } = true;

        internal bool EndsWithLineEnd => _last is (byte)'\n' or (byte)'\r';

        internal int Lines => Length == 0 ? 0 : _breaks + (EndsWithLineEnd ? 0 : 1);

        /// <summary>Counts and validates bytes that hold nothing out of the ordinary; false, with nothing counted, where they do.</summary>
        internal bool TryTakePlain(ReadOnlySpan<byte> span)
        {
            if (!PlainText.Is(span, out int feeds, out int returns))
            {
                return false;
            }

            _breaks += Breaks(span, feeds, returns, ref _lastWasReturn);
            _validatedBreaks += FirstInvalidLine != 0 ? 0 : Breaks(span, feeds, returns, ref _validatedReturn);
            Length += span.Length;
            _last = span[^1];
            return true;
        }

        internal void Count(ReadOnlySpan<byte> span)
        {
            int nul = span.IndexOf((byte)0);
            if (nul >= 0)
            {
                if (FirstNulLine == 0)
                {
                    FirstNulLine = LineAt(span[..nul]);
                }

                for (int i = nul; i < span.Length; i++)
                {
                    if (span[i] == 0)
                    {
                        if (((Length + i) & 1) == 0)
                        {
                            EvenNuls++;
                        }
                        else
                        {
                            OddNuls++;
                        }
                    }
                }
            }

            int control = span.IndexOfAny(TextBytes.Controls);
            if (control >= 0)
            {
                if (ControlBytes == 0)
                {
                    FirstControlLine = LineAt(span[..control]);
                }

                ControlBytes++;
            }

            _breaks += Breaks(span, ref _lastWasReturn);
            Length += span.Length;
            _last = span[^1];
        }

        // Returns how many bytes of an unfinished character were moved to the front.
        internal int Validate(ReadOnlySpan<byte> span, byte[] chunk)
        {
            if (FirstInvalidLine != 0)
            {
                return 0;
            }

            if (System.Text.Ascii.IsValid(span))
            {
                _validatedBreaks += Breaks(span, ref _validatedReturn);
                return 0;
            }

            Ascii = false;
            int whole = span.Length;
            for (int back = 1; back <= Math.Min(3, span.Length); back++)
            {
                byte b = span[^back];
                if ((b & 0xC0) == 0xC0)
                {
                    int needed = b >= 0xF0 ? 4 : b >= 0xE0 ? 3 : 2;
                    if (needed > back)
                    {
                        whole = span.Length - back;
                    }

                    break;
                }

                if (b < 0x80)
                {
                    break;
                }
            }

            CheckValid(span[..whole]);
            int rest = span.Length - whole;
            span[whole..].CopyTo(chunk);
            return rest;
        }

        internal void Finish(ReadOnlySpan<byte> rest)
        {
            if (FirstInvalidLine == 0 && !rest.IsEmpty)
            {
                CheckValid(rest);
            }
        }

        private static int Breaks(ReadOnlySpan<byte> span, ref bool lastWasReturn) =>
            span.IsEmpty ? 0 : Breaks(span, span.Count((byte)'\n'), span.Count((byte)'\r'), ref lastWasReturn);

        private static int Breaks(ReadOnlySpan<byte> span, int feeds, int returns, ref bool lastWasReturn)
        {
            if (feeds > 0 && lastWasReturn && span[0] == '\n')
            {
                feeds--;
            }

            if (returns > 0)
            {
                feeds -= span.Count("\r\n"u8);
            }

            lastWasReturn = span[^1] == '\r';
            return feeds + returns;
        }

        private int LineAt(ReadOnlySpan<byte> before)
        {
            bool wasReturn = _lastWasReturn;
            return _breaks + Breaks(before, ref wasReturn) + 1;
        }

        private void CheckValid(ReadOnlySpan<byte> span)
        {
            if (!Utf8.IsValid(span))
            {
                int at = 0;
                while (Rune.DecodeFromUtf8(span[at..], out _, out int consumed) == System.Buffers.OperationStatus.Done)
                {
                    at += consumed;
                }

                bool wasReturn = _validatedReturn;
                FirstInvalidLine = _validatedBreaks + Breaks(span[..at], ref wasReturn) + 1;
                return;
            }

            _validatedBreaks += Breaks(span, ref _validatedReturn);
        }
    }
}
