using System.Text;
using CsvHelper;
using PackCare.Core.Reading;
using PackCare.Core.Samples;
using PackCare.Import.Lexing;
using PackCare.Import.Text;

namespace PackCare.Import.Tables;

/// <summary>Reads the whole table once, under one dialect, and accounts for every line.</summary>
internal sealed class TableParser
{
    private const int MaxFooterLines = 1000;
    private const int MaxRemarks = 200;
    private const int MostBlanks = 10_000;

    // "Min" begins a line of figures below a table; "OL" stands where no time was read.
    private const int ShortestWord = 2;

    private readonly LogText _text;
    private readonly TableFrame _frame;
    private readonly Dialect _dialect;
    private readonly ReadOptions _options;
    private readonly RawColumn[] _columns;
    private readonly ListColumn?[] _lists;
    private readonly PackedBudget _budget;
    private readonly RawValues _lines;
    private readonly List<InputProblem> _problems = [];
    private readonly List<(int Line, string Text)> _footers = [];
    private readonly List<string> _remarks = [];
    private readonly List<int> _restarts = [];
    private readonly List<int> _blanks = [];
    private readonly List<byte[]> _headerTexts;
    private readonly int[] _map;
    private CsvMalformedReason? _malformed;
    private int _rows;
    private int _headers;
    private int _units;
    private int _comments;
    private int _dropped;
    private int _noteLines;
    private long _bodyOffset;
    private int _lastRecordLine;
    private int _firstGapLine;
    private bool _refused;

    private TableParser(LogText text, TableFrame frame, Dialect dialect, ReadOptions options)
    {
        _text = text;
        _budget = LongLog.Budget(text.Lines);
        _frame = frame;
        _dialect = dialect;
        _options = options;
        _columns = [.. frame.Shapes.Select((shape, index) => new RawColumn(index, shape == ColumnShape.Empty ? ColumnShape.Number : shape, (byte)dialect.DecimalMark, frame.Headers[index], frame.Units[index] ?? frame.ValueUnits[index], UnitSuffix.Bytes(frame.ValueUnits[index]), _budget))];
        _lines = new RawValues(_budget);
        _lists = [.. frame.Lists.Select((list, index) => list is null ? null : new ListColumn(index, list, (byte)dialect.DecimalMark, frame.Headers[index], frame.Units[index]))];
        _headerTexts = [.. frame.HeaderTexts.Select(Encoding.UTF8.GetBytes)];
        _map = new int[frame.Width + 2];
    }

    /// <summary>Reads the table.</summary>
    /// <param name="text">The log.</param>
    /// <param name="frame">Where its table stands.</param>
    /// <param name="dialect">How it is written.</param>
    /// <param name="options">What the user fixed.</param>
    /// <param name="allByCsv">Whether plain rows, too, go through the CSV reader; only slower.</param>
    internal static RawTable Parse(LogText text, TableFrame frame, Dialect dialect, ReadOptions options, bool allByCsv = false) =>
        new TableParser(text, frame, dialect, options).Run(allByCsv);

    private RawTable Run(bool allByCsv)
    {
        (long taken, int before) = allByCsv ? (0, _frame.FirstLine - 1) : TakePlainRows();
        ReadOthers(_frame.FirstOffset + taken, before);
        if (!_refused && _rows == 0)
        {
            Refuse("no-samples", null, null, "no sample rows", "export the log again");
        }

        RawColumn[] columns = [.. _columns.SelectMany((column, c) => _lists[c] is { } list ? list.Parts : [column])];
        foreach (RawColumn column in columns)
        {
            column.Close();
        }

        before = _frame.FirstLine - 1;
        int blank = _text.Lines - before - _rows - _noteLines - _comments - _headers - _units - _footers.Count - _dropped;
        if (!_refused && _frame.HasHeader && _frame.LineBefore < before)
        {
            _problems.Add(Refusals.Notice("blank-line", before, null, "a blank line between the header and the first sample", "have a look: a row may have been lost there"));
        }

        if (!_refused && _firstGapLine > 0 && blank * 4 < _rows)
        {
            _problems.Add(Refusals.Notice("blank-line", _firstGapLine, null, "a blank line between sample rows", "have a look: a row may have been lost there"));
        }

        foreach ((int line, string text) in _refused ? [] : _footers)
        {
            _problems.Add(Refusals.Notice("footer", line, null, $"a line after the table: \"{text}\"", "it was left out of the samples"));
        }

        return new RawTable
        {
            Frame = _frame,
            Columns = columns,
            Rows = _rows,
            LineBlocks = _lines.Close(out _),
            Restarts = _restarts,
            Blanks = _blanks,
            Ledger = MakeLedger(),
            Problems = _problems,
            Remarks = _remarks,
            Budget = _budget,
        };
    }

    // Row by row under all rules. A quote is taken for open at the end of its line, until one is found that goes on in the lines below.
    private void ReadOthers(long offset, int lineBefore)
    {
        bool joins = false;
        long alone = -1;
        while (ReadUntilTurned(ref offset, ref lineBefore, joins, alone))
        {
            alone = joins ? offset : alone;
            joins = !joins;
            _malformed = null;
        }
    }

    // True where the record from there on has to be read the other way.
    private bool ReadUntilTurned(ref long offset, ref int lineBefore, bool joins, long alone)
    {
        _bodyOffset = offset;
        using Stream stream = _text.Open(offset);
        CsvReaderOptions options = CsvBody.Options(_dialect.Delimiter, _dialect.Quote, _frame.HasQuotes, record => _malformed ??= record.Reason);
        using var csv = CsvReader.Create(stream, joins ? options with { AllowLineBreaksInQuotes = true, MaxRecordSize = NoteLines.MaxRecordBytes } : options, leaveOpen: true);
        int lastLine = lineBefore;
        try
        {
            while (!_refused && csv.Read())
            {
                _options.Unwanted.ThrowIfCancellationRequested();
                int line = lineBefore + (int)csv.LineNumber;
                int more = joins ? NoteLines.Count(csv.RawRecord) : 0;
                bool turns = joins ? more > 0 && !IsRowWithNote(csv) : _malformed == CsvMalformedReason.LineBreakInQuotes && offset + csv.ByteOffset != alone && MayHaveNotes(csv);
                if (turns)
                {
                    (offset, lineBefore) = (offset + csv.ByteOffset, line - 1);
                    return true;
                }

                lastLine = line + more;
                Take(csv, line, lastLine);
                _noteLines += more;
                _lastRecordLine = lastLine;
                _malformed = null;
            }
        }
        catch (CsvFormatException)
        {
            Refuse(joins ? "open-quote" : "line-too-long", lastLine + 1, null, joins ? "a quote that is not closed" : "a line of more than a megabyte", joins ? "correct the quotes in that line" : "export the log again");
        }

        return false;
    }

    private bool MayHaveNotes(CsvReader csv) => !_dialect.CollapsesBlanks && csv.RawRecord[0] is not ((byte)'#' or (byte)'%' or (byte)'/');

    // All fields are what their columns hold, and no line of the note looks like a row that an open quote swallowed.
    private bool IsRowWithNote(CsvReader csv)
    {
        if (_malformed is not null || csv.FieldCount != _frame.Width || _footers.Count > 0 || !_columns[_frame.KeyColumn].Fits(Field(csv, _frame.KeyColumn)) || !IsRowButForItsKey(csv))
        {
            return false;
        }

        foreach (string line in NoteLines.Of(csv.RawRecord))
        {
            string[] fields = line.Split(_dialect.Quote)[0].Split(_dialect.Delimiter);
            int values = 0;
            for (int c = 0; c < Math.Min(fields.Length, _frame.Width); c++)
            {
                byte[] field = Encoding.UTF8.GetBytes(fields[c]);
                values += _lists[c] is null && _columns[c].Shape is ColumnShape.Number or ColumnShape.Time && !NumberLexer.IsMissing(field) && Holds(c, field) ? 1 : 0;
            }

            if (values >= NoteLines.ValuesOfRow)
            {
                return false;
            }
        }

        return true;
    }

    // How far the rows without quotes or other oddities reach, in bytes from the first row on, and their last line.
    private (long Taken, int LastLine) TakePlainRows()
    {
        int before = _frame.FirstLine - 1;
        if (_dialect.CollapsesBlanks || _dialect.Quote != '"' || Array.Exists(_lists, list => list is not null))
        {
            return (0, before);
        }

        using Stream stream = _text.Open(_frame.FirstOffset);
        var reader = new PlainReader(stream, (byte)_dialect.Delimiter, (byte)_dialect.DecimalMark, _frame.Width, _frame.FirstLine, Expect);
        _options.Processors?.TakeAll();
        try
        {
            while (reader.Next() is { } rows)
            {
                _options.Unwanted.ThrowIfCancellationRequested();
                TakePlainRows(rows);
            }
        }
        finally
        {
            _options.Processors?.LeaveOne();
        }

        return (reader.Offset, reader.NextLine - 1);
    }

    private void TakePlainRows(PlainRows rows)
    {
        int count = _columns[_frame.KeyColumn].AcceptRows(rows, rows.Count, _frame.HasQuotes, isKey: true);
        AcceptOthers(rows, count);
        ReadOnlySpan<int> lines = rows.Lines[..count];
        if (count > 0 && lines[^1] - lines[0] == count - 1)
        {
            // Without a line in between, as nearly always.
            CountRow(lines[0]);
            _lines.AppendRun(lines[0] + 1, count - 1);
            _rows += count - 1;
            _lastRecordLine = lines[^1];
        }
        else
        {
            foreach (int line in lines)
            {
                CountRow(line);
                _lastRecordLine = line;
            }
        }

        if (count < rows.Count)
        {
            rows.StopAt(count);
        }
    }

    private void Expect(PlainRows rows)
    {
        foreach (RawColumn column in _columns)
        {
            rows.Expect(column.Index, column.LikelyDecimals);
        }
    }

    // Columns know nothing of each other; the key column alone says how many rows there are.
    private void AcceptOthers(PlainRows rows, int count)
    {
        if (Array.TrueForAll(_columns, column => rows.ReadAhead(column.Index, out _, out _).Length == count))
        {
            foreach (RawColumn column in _columns)
            {
                AcceptOther(column);
            }
        }
        else
        {
            Parallel.ForEach(_columns, AcceptOther);
        }

        void AcceptOther(RawColumn column)
        {
            if (column.Index != _frame.KeyColumn)
            {
                column.AcceptRows(rows, count, _frame.HasQuotes, isKey: false);
            }
        }
    }

    private void CountRow(int line)
    {
        _lines.TryAppend(line, 0);
        if (_rows > 0 && line > _lastRecordLine + 1)
        {
            _firstGapLine = _firstGapLine == 0 ? _lastRecordLine + 1 : _firstGapLine;
            if (_blanks.Count < MostBlanks)
            {
                _blanks.Add(_rows);
            }
        }

        _rows++;
    }

    private Ledger MakeLedger()
    {
        int header = _frame.HeaderLines + _headers;
        int units = _frame.UnitLines + _units;
        int comments = _frame.PreambleLines + _comments + _noteLines;
        if (_refused)
        {
            int blank = Math.Min(_frame.BlankLines, _text.Lines - header - units - comments);
            return new Ledger(_text.Lines, header, units, 0, comments, 0, blank, _text.Lines - header - units - comments - blank);
        }

        int known = header + units + comments + _rows + _footers.Count + _dropped;
        return new Ledger(_text.Lines, header, units, _rows, comments, _footers.Count, _text.Lines - known, _dropped);
    }

    private void Take(CsvReader csv, int line, int lastLine)
    {
        int count = csv.FieldCount;
        int width = _frame.Width;
        if (_dialect.CollapsesBlanks)
        {
            count = Collapse(csv, count);
        }

        if (count == width && _malformed is null && _footers.Count == 0 && (lastLine != _text.Lines || _text.EndsWithLineEnd) && csv.RawRecord[0] != '#'
            && _columns[_frame.KeyColumn].TryAcceptKey(Field(csv, _frame.KeyColumn), line))
        {
            TakeFields(csv, line);
            return;
        }

        TakeOther(csv, line, lastLine, count);
    }

    private void TakeRow(CsvReader csv, int line)
    {
        if (_footers.Count > 0)
        {
            Refuse("unexpected-line", _footers[0].Line, null, $"\"{_footers[0].Text}\" between sample rows", "remove that line, or split the file there");
            return;
        }

        if (_columns[_frame.KeyColumn].TryAcceptKey(Field(csv, _frame.KeyColumn), line))
        {
            TakeFields(csv, line);
        }
    }

    private void TakeFields(CsvReader csv, int line)
    {
        for (int c = 0; c < _columns.Length; c++)
        {
            if (c == _frame.KeyColumn)
            {
                continue;
            }

            if (_lists[c] is { } list)
            {
                list.Accept(Field(csv, c), line);
            }
            else
            {
                _columns[c].Accept(Field(csv, c), line);
            }
        }

        CountRow(line);
    }

    private ReadOnlySpan<byte> Field(CsvReader csv, int column) => csv.GetSpan(_dialect.CollapsesBlanks ? _map[column] : column);

    // Gives the fields that are not the gaps of a run of blanks.
    private int Collapse(CsvReader csv, int count)
    {
        int kept = 0;
        for (int i = 0; i < count; i++)
        {
            if (!csv.IsEmpty(i))
            {
                if (kept < _map.Length)
                {
                    _map[kept] = i;
                }

                kept++;
            }
        }

        return kept;
    }

    private void TakeOther(CsvReader csv, int line, int lastLine, int count)
    {
        ReadOnlySpan<byte> raw = TextBytes.TrimLine(csv.RawRecord);
        if (raw.IsEmpty || (_malformed is null && AllEmpty(csv)))
        {
            return;
        }

        if (raw[0] is (byte)'#' or (byte)'%' || raw.StartsWith("//"u8))
        {
            if (count == _frame.Width && _malformed is null && IsRowButForItsKey(csv))
            {
                if (!IsRowMarkedAsComment(csv) && !IsRemark(Field(csv, 0)))
                {
                    RefuseKey(line, Field(csv, 0));
                    return;
                }

                _problems.Add(RowInComment(line));
            }
            else if (_malformed is not null && IsRowWithoutItsFirstQuote(raw))
            {
                _problems.Add(RowInComment(line));
            }

            _comments++;
            Remark(raw);
            return;
        }

        int header = _headerTexts.FindIndex(text => csv.RawRecord.SequenceEqual(text));
        if (header >= 0)
        {
            if (header >= _frame.HeaderLines)
            {
                _units++;
            }
            else
            {
                _headers++;
            }

            if (_restarts.Count == 0 || _restarts[^1] != _rows)
            {
                _restarts.Add(_rows);
            }

            return;
        }

        bool cutOff = lastLine == _text.Lines && !_text.EndsWithLineEnd;
        ReadOnlySpan<byte> key = count > _frame.KeyColumn ? Field(csv, _frame.KeyColumn) : [];
        bool keyFits = !NumberLexer.IsMissing(key) && _columns[_frame.KeyColumn].Fits(key);
        bool isRow = count == _frame.Width && keyFits;
        LastRows? before = cutOff && count <= _frame.Width && _footers.Count == 0 ? LastRows.Before(_text, _frame, _dialect, _bodyOffset + csv.ByteOffset) : null;
        if (isRow && _malformed is null && cutOff && (before is null || LastRowIsWhole(csv, before)))
        {
            TakeRow(csv, line);
            return;
        }

        if (isRow && _malformed is null && !cutOff && _footers.Count > 0)
        {
            TakeRow(csv, line);
            return;
        }

        // A whole row of samples without its time is no line after the table, whatever stands for the time.
        if (count == _frame.Width && !keyFits && _malformed is null && !cutOff && (NumberLexer.IsMissing(key) || IsNoReading(key) || (key.Length <= ShortestWord && Ascii.IsValid(key))) && IsRowButForItsKey(csv))
        {
            RefuseKey(line, key);
            return;
        }

        bool isCutRow = before is not null && (isRow || before.BeginLike(Encoding.UTF8.GetString(raw)));
        if (!isCutRow && !keyFits && _malformed is null or CsvMalformedReason.StrayQuote && IsFooter(csv, count))
        {
            if (_footers.Count >= MaxFooterLines)
            {
                Refuse("unexpected-line", _footers[0].Line, null, $"\"{_footers[0].Text}\" and over a thousand lines more after the table", "split the file there");
                return;
            }

            _footers.Add((line, Refusals.Snippet(Encoding.UTF8.GetString(raw[..Math.Min(raw.Length, 200)]))));
            Remark(raw);
            return;
        }

        if (isCutRow || (before is not null && count < _frame.Width))
        {
            string found = isRow && _malformed is null ? $"the last row may be cut off: no line end follows its last value, \"{Refusals.Snippet(LastRows.LastField(csv, _dialect))}\", which is not written out as those above it" : "the last row is cut off";
            if (_options.AllowTruncated)
            {
                _dropped++;
                _problems.Add(Refusals.Notice("truncated", line, null, found, "it was left out as you allowed"));
                return;
            }

            Refuse("truncated", line, null, found, isRow && _malformed is null ? "copy the file again, end that line if it is whole, or leave that row out with --allow-truncated" : "copy the file again, or leave that row out with --allow-truncated");
            return;
        }

        if (_malformed is { } reason)
        {
            int? at = FirstOpenQuote(csv);
            Refuse(
                reason is CsvMalformedReason.LineBreakInQuotes or CsvMalformedReason.UnterminatedQuote ? "open-quote" : "stray-quote",
                line, at, "a quote that is not closed, or stands within a value", "correct the quotes in that line");
            return;
        }

        if (_footers.Count > 0)
        {
            Refuse("second-table", _footers[0].Line, null, $"a second table begins: \"{_footers[0].Text}\"", "split the file there");
            return;
        }

        if (count == _frame.Width)
        {
            RefuseKey(line, key);
            return;
        }

        Refuse("field-count", line, null, $"{count} fields where the rows before have {_frame.Width}", "correct that line, or export the log again");
    }

    private bool Holds(int column, ReadOnlySpan<byte> field) => _lists[column] is { } list ? list.Fits(field) : _columns[column].Fits(field);

    private void RefuseKey(int line, ReadOnlySpan<byte> key) => Refuse(
        "not-a-sample", line, _frame.KeyColumn + 1, NumberLexer.IsMissing(key) ? _frame.KeyColumn == 0 ? "a row without its first value" : "a row without its time" : $"\"{Refusals.Snippet(Encoding.UTF8.GetString(key))}\" where a number or time is due", "correct or remove that line");

    // Every field but that one is what its column holds, and some hold values.
    private bool IsRowButForItsKey(CsvReader csv)
    {
        int values = 0;
        for (int c = 0; c < _columns.Length; c++)
        {
            ReadOnlySpan<byte> field = Field(csv, c);
            if (c == _frame.KeyColumn)
            {
                continue;
            }

            if (!Holds(c, field))
            {
                return false;
            }

            values += (_lists[c] is not null || _columns[c].Shape is ColumnShape.Number or ColumnShape.Time) && !NumberLexer.IsMissing(field) ? 1 : 0;
        }

        return values >= 2;
    }

    private static bool IsNoReading(ReadOnlySpan<byte> key) => Encoding.UTF8.GetString(TextBytes.Trim(key)).TrimStart('+', '-').ToLowerInvariant() is "infinity" or "inf" or "nan" or "ovf" or "ovl" or "err" or "error" or "overflow" or "null" or "none" or "invalid";

    private static InputProblem RowInComment(int line) =>
        Refusals.Notice("row-in-comment", line, null, "a comment that holds a whole row of samples", "it was left out; if it is a sample, take away the mark before it");

    // #90";"3.7": all fields are quoted, and the mark stands where the first quote was due.
    private bool IsRowWithoutItsFirstQuote(ReadOnlySpan<byte> raw)
    {
        string[] fields = Encoding.UTF8.GetString(raw[1..]).Split($"{_dialect.Quote}{_dialect.Delimiter}{_dialect.Quote}");
        return fields.Length == _columns.Length && fields.Select((field, c) => Holds(c, Encoding.UTF8.GetBytes(field.Trim(_dialect.Quote)))).All(holds => holds);
    }

    // "# fan on" is a remark, whatever figures stand behind it; "#REF!" is none.
    private static bool IsRemark(ReadOnlySpan<byte> field)
    {
        ReadOnlySpan<byte> text = TextBytes.Trim(field.TrimStart("#%/"u8));
        return text.Length > ShortestWord && text.ContainsAnyInRange((byte)'a', (byte)'z');
    }

    // "#90" is a row that somebody took out, or whose first digit was overwritten; "#REF!" is none.
    private bool IsRowMarkedAsComment(CsvReader csv) =>
        _columns[0].Fits(TextBytes.Trim(Field(csv, 0).TrimStart("#%/"u8)));

    // The fields before the last one are closed by delimiters; only the last one can be the beginning of a longer one.
    private bool LastRowIsWhole(CsvReader csv, LastRows before)
    {
        for (int c = 0; c < _columns.Length; c++)
        {
            if (!Holds(c, Field(csv, c)))
            {
                return false;
            }
        }

        int last = _columns.Length - 1;
        return LastField.IsWhole(LastRows.LastField(csv, _dialect), before.Fields, _lists[last] is null ? _columns[last].Shape : ColumnShape.List, _dialect);
    }

    private static bool AllEmpty(CsvReader csv)
    {
        for (int i = 0; i < csv.FieldCount; i++)
        {
            if (!TextBytes.Trim(csv.GetSpan(i)).IsEmpty)
            {
                return false;
            }
        }

        return true;
    }

    // Words first: a summary, an end mark, a label with its value. A row that is damaged starts with a number.
    private static bool IsFooter(CsvReader csv, int count)
    {
        _ = count;
        for (int i = 0; i < csv.FieldCount; i++)
        {
            ReadOnlySpan<byte> field = TextBytes.Trim(csv.GetSpan(i));
            if (field.IsEmpty)
            {
                continue;
            }

            if (field[0] is (byte)'-' or (byte)'=' or (byte)'*' && field.IndexOfAnyExcept(field[0]) < 0)
            {
                return true;
            }

            int letters = 0;
            foreach (byte b in field)
            {
                if ((uint)((b | 0x20) - 'a') < 26 || b >= 0xC3)
                {
                    letters++;
                }
            }

            bool startsWithLetter = (uint)((field[0] | 0x20) - 'a') < 26 || field[0] >= 0xC3 || field[0] is (byte)'[' or (byte)'(' or (byte)'<' or (byte)'*' or (byte)'-' or (byte)'=';
            return letters >= 2 && startsWithLetter;
        }

        return false;
    }

    private static int? FirstOpenQuote(CsvReader csv)
    {
        for (int i = 0; i < csv.FieldCount; i++)
        {
            ReadOnlySpan<byte> field = TextBytes.Trim(csv.GetRawSpan(i));
            if (field.Count((byte)'"') % 2 == 1 || (field.IndexOf((byte)'"') > 0))
            {
                return i + 1;
            }
        }

        return null;
    }

    private void Remark(ReadOnlySpan<byte> raw)
    {
        if (_remarks.Count < MaxRemarks)
        {
            _remarks.Add(Encoding.UTF8.GetString(raw[..Math.Min(raw.Length, 400)]));
        }
    }

    private void Refuse(string code, int? line, int? column, string found, string advice)
    {
        if (!_refused)
        {
            _refused = true;
            _problems.Add(Refusals.Refuse(code, line, column, found, advice));
        }
    }
}
