using System.Globalization;
using System.Text;
using CsvHelper;
using PackCare.Core.Reading;
using PackCare.Import.Lexing;
using PackCare.Import.Meanings;

namespace PackCare.Import.Tables;

/// <summary>Finds the table in a log's beginning: the numeric body first, then the header and preamble around it.</summary>
internal static class FrameFinder
{
    private const int MostChars = 400;
    private const int MaxWidth = 512;

    /// <summary>Splits the beginning of a log at one delimiter.</summary>
    /// <param name="head">The beginning.</param>
    /// <param name="delimiter">The delimiter.</param>
    /// <param name="quote">What stands around quoted fields.</param>
    /// <param name="isWhole">Whether that is all there is; else a note may go on behind it.</param>
    internal static List<HeadRow> Split(byte[] head, char delimiter, char quote, bool isWhole = true)
    {
        List<HeadRow> rows = Split(head, delimiter, quote, lineBreaks: false, out bool broken);
        if (broken)
        {
            // A header may have line breaks within quotes, and so may notes; where that reading has no open quote, it is the better one.
            List<HeadRow> joined = Split(head, delimiter, quote, lineBreaks: true, out bool stillBroken);
            if (stillBroken && !isWhole && joined.Count > 1 && joined[^1].Raw.Length <= NoteLines.MaxRecordBytes)
            {
                joined = Split(head[..(int)joined[^1].Offset], delimiter, quote, lineBreaks: true, out stillBroken);
            }

            if (!stillBroken)
            {
                return joined;
            }
        }

        return rows;
    }

    /// <summary>Whether fields stand between apostrophes in place of quotes: some column's, in every row.</summary>
    internal static bool HasApostrophes(byte[] head, char delimiter)
    {
        if (!head.Contains((byte)'\'') || head.Contains((byte)'"'))
        {
            return false;
        }

        List<HeadRow> rows = Split(head, delimiter, '"', lineBreaks: false, out _);
        int between = rows.Count(row => !row.IsComment && StandAroundFields(row.Raw, delimiter));
        return between >= 2 && between * 10 >= rows.Count * 6;
    }

    /// <summary>Whether in most rows, split at blanks, another delimiter is left at the edge of a field.</summary>
    internal static bool PadsWithBlanks(List<HeadRow> rows, int width, char delimiter)
    {
        List<HeadRow> table = [.. rows.Where(row => row.Fields.Length == width && !row.IsComment)];
        return table.Count(row => row.Fields.Any(field => field.Length > 0 && (field[0] == delimiter || field[^1] == delimiter))) * 2 > table.Count;
    }

    /// <summary>Whether in most rows a field of a column of words holds another delimiter.</summary>
    internal static bool LeavesInWords(List<HeadRow> rows, TableFrame frame, char delimiter)
    {
        int[] words = [.. Enumerable.Range(0, frame.Width).Where(c => frame.Shapes[c] == ColumnShape.Text)];
        List<HeadRow> table = [.. rows.Where(row => row.Fields.Length == frame.Width && !row.IsComment)];
        return words.Length > 0 && table.Count(row => Array.Exists(words, c => row.Fields[c].Contains(delimiter, StringComparison.Ordinal))) * 2 > table.Count;
    }

    // Every apostrophe opens a field or closes one; one within a number groups its digits.
    private static bool StandAroundFields(string row, char delimiter)
    {
        string text = row.Trim();
        int opened = -1;
        bool any = false;
        for (int at = text.IndexOf('\'', StringComparison.Ordinal); at >= 0; at = text.IndexOf('\'', at + 1))
        {
            bool opens = opened < 0;
            ReadOnlySpan<char> beside = opens ? text.AsSpan(0, at) : text.AsSpan(at + 1);
            beside = delimiter == ' ' ? beside : beside.Trim(' ');
            if (!beside.IsEmpty && (opens ? beside[^1] : beside[0]) != delimiter)
            {
                return false;
            }

            any |= !opens && at > opened + 1;
            opened = opens ? at : -1;
        }

        return any && opened < 0;
    }

    private static List<HeadRow> Split(byte[] head, char delimiter, char quote, bool lineBreaks, out bool broken)
    {
        var rows = new List<HeadRow>();
        bool open = false;
        using var csv = CsvReader.Create(head, CsvBody.Options(delimiter, quote, head.Contains((byte)quote), record => open |= record.Reason is CsvMalformedReason.LineBreakInQuotes or CsvMalformedReason.UnterminatedQuote) with { AllowLineBreaksInQuotes = lineBreaks });
        while (csv.Read())
        {
            int count = csv.FieldCount;
            var fields = new List<string>(count);
            for (int i = 0; i < count; i++)
            {
                ReadOnlySpan<byte> field = csv.GetSpan(i);
                if (delimiter != ' ' || !field.IsEmpty)
                {
                    fields.Add(Encoding.UTF8.GetString(field));
                }
            }

            if (fields.Count > 1 || (fields.Count == 1 && !string.IsNullOrWhiteSpace(fields[0])))
            {
                rows.Add(new HeadRow((int)csv.LineNumber, csv.ByteOffset, Encoding.UTF8.GetString(csv.RawRecord), [.. fields]));
            }
        }

        broken = open;
        return rows;
    }

    /// <summary>Finds the table among the rows, or says why there is none.</summary>
    internal static TableFrame? Find(IReadOnlyList<HeadRow> rows, Dialect dialect, out InputProblem? problem)
    {
        problem = null;
        byte mark = (byte)dialect.DecimalMark;
        // What is no plain number takes long to tell, and comes again and again.
        var known = new Dictionary<string, ColumnShape>(StringComparer.Ordinal);
        var looks = new ColumnShape[rows.Count][];
        var values = new int[rows.Count];
        for (int r = 0; r < rows.Count; r++)
        {
            looks[r] = rows[r].IsComment ? [] : Array.ConvertAll(rows[r].Fields, field => ShapeOf(field, mark, known));
            values[r] = looks[r].Count(look => look is ColumnShape.Number or ColumnShape.Time or ColumnShape.List);
        }

        int width = rows.Select((row, r) => (row, r))
            .Where(x => values[x.r] >= 2 && x.row.Fields.Length is >= 2 and <= MaxWidth)
            .GroupBy(x => x.row.Fields.Length)
            .OrderByDescending(g => g.Sum(x => values[x.r]))
            .ThenByDescending(g => g.Key)
            .Select(g => g.Key)
            .FirstOrDefault();
        if (width == 0)
        {
            problem = NoRows(dialect);
            return null;
        }

        ColumnShape[] shapes = Shapes(rows, looks, values, width);
        // A date that stands in the first row only is no row's own.
        int[] table = [.. Enumerable.Range(0, rows.Count).Where(r => values[r] >= 2 && rows[r].Fields.Length == width)];
        int key = Array.FindIndex(shapes, shape => shape is ColumnShape.Time);
        if (key >= 0 && table.Count(r => looks[r][key] != ColumnShape.Empty) * 2 <= table.Length)
        {
            key = Array.FindIndex(shapes, key + 1, shape => shape is ColumnShape.Time);
        }

        int firstNumber = Array.FindIndex(shapes, shape => shape is ColumnShape.Number);
        if (key < 0 || (firstNumber >= 0 && firstNumber < key))
        {
            key = firstNumber;
        }

        key = WrittenFromTheStart(rows, looks, table, width, shapes, key);
        if (key < 0)
        {
            problem = Refusals.Refuse("no-table", null, null, "no column of numbers", "export the log as a table with one row a sample");
            return null;
        }

        int first = -1;
        for (int r = 0; r < rows.Count; r++)
        {
            if (values[r] >= 2 && rows[r].Fields.Length == width && looks[r][key] is ColumnShape.Number or ColumnShape.Time && !NumbersColumns(rows, values, r))
            {
                first = r;
                break;
            }
        }

        if (first < 0)
        {
            problem = Refusals.Refuse("no-table", null, null, "no row of numbers", "export the log as a table with one row a sample");
            return null;
        }

        TableFrame? frame = WithHeader(dialect.CollapsesBlanks ? WithAlignedHeader(rows, first, width) : rows, first, width, shapes, key, dialect, out problem);
        if (frame is not null && dialect.Delimiter == ',' && CutDecimals(rows, first, width, shapes) is { } cut)
        {
            problem = Refusals.Refuse(
                "ambiguous-delimiter", rows[first].Line, cut + 1, $"\"{Refusals.Snippet(rows[first].Fields[cut])}\", which may be the decimals of the number before it, cut off at a decimal comma",
                "export the log with a semicolon or a tab between fields, or with decimal points");
            return null;
        }

        return frame;
    }

    // A reading may be missing in the very first row; under a header that names it as one, the column that is written throughout tells what a row is.
    private static int WrittenFromTheStart(IReadOnlyList<HeadRow> rows, ColumnShape[][] looks, int[] table, int width, ColumnShape[] shapes, int key)
    {
        if (key < 0 || table.Length < 2 || table[0] == 0 || looks[table[0]][key] != ColumnShape.Empty || rows[table[0] - 1].Fields.Length != width
            || HeaderWords.Read(rows[table[0] - 1].Fields[key], null).Quantity is Quantity.Unknown or Quantity.Elapsed or Quantity.Timestamp or Quantity.Clock or Quantity.Date)
        {
            return key;
        }

        int written = Enumerable.Range(0, width).FirstOrDefault(c => shapes[c] is ColumnShape.Number or ColumnShape.Time && Array.TrueForAll(table, r => looks[r][c] == shapes[c]), -1);
        return written < 0 ? key : written;
    }

    // Where no number has a decimal mark, a column of as many digits in every row, some with noughts in front, is no number of its own.
    private static int? CutDecimals(IReadOnlyList<HeadRow> rows, int first, int width, ColumnShape[] shapes)
    {
        const int LeastRows = 3;
        List<HeadRow> table = [.. rows.Skip(first).Where(row => row.Fields.Length == width && !row.IsComment)];
        if (table.Count < LeastRows || table.Exists(row => row.Fields.Where((_, c) => shapes[c] == ColumnShape.Number).Any(field => field.Contains('.', StringComparison.Ordinal))))
        {
            return null;
        }

        for (int c = 1; c < width; c++)
        {
            int digits = table[0].Fields[c].Length;
            if (shapes[c] == ColumnShape.Number && shapes[c - 1] == ColumnShape.Number && digits >= 2 && table.TrueForAll(row => row.Fields[c].Length == digits && row.Fields[c].All(char.IsAsciiDigit)) && table.Exists(row => row.Fields[c][0] == '0'))
            {
                return c;
            }
        }

        return null;
    }

    // Right above a table that is laid out with blanks, the words of a header may have blanks between them.
    private static IReadOnlyList<HeadRow> WithAlignedHeader(IReadOnlyList<HeadRow> rows, int first, int width)
    {
        List<HeadRow> table = [.. rows.Skip(first).Where(row => row.Fields.Length == width && !row.IsComment)];
        return [.. rows.Select((row, r) => r < first && r >= first - 2 && row.Fields.Length > width && !row.IsComment && AlignedHeader.Split(row, table, width) is { } fields ? row with { Fields = fields } : row)];
    }

    // A row of 1, 2, 3 above a header numbers the columns of a sheet.
    private static bool NumbersColumns(IReadOnlyList<HeadRow> rows, int[] values, int r) =>
        rows[r].Fields.Length >= 3 && r + 2 < rows.Count && values[r + 1] == 0 && rows[r + 1].Fields.Length == rows[r].Fields.Length && CountUp([.. rows[r].Fields.Select(field => field.Trim())]);

    // A, B, C, as sheets head their columns.
    private static bool IsLetters(HeadRow row) =>
        row.Fields.Length >= 3 && row.Fields.Select((field, c) => field.Trim() is [var letter] && char.ToUpperInvariant(letter) == 'A' + c).All(fits => fits);

    /// <summary>What is wrong with a log that shows no table under a dialect.</summary>
    internal static InputProblem NoRows(Dialect dialect) =>
        Refusals.Refuse("no-table", null, null, $"no rows of numbers between {dialect.DelimiterName}", "export the log as a table with one row a sample");

    /// <summary>What one field looks like under a decimal mark.</summary>
    internal static ColumnShape ShapeOf(string field, byte mark) => ShapeOf(field, mark, known: null);

    private static ColumnShape ShapeOf(string field, byte mark, Dictionary<string, ColumnShape>? known)
    {
        Span<byte> bytes = stackalloc byte[3 * Math.Min(field.Length, MostChars)];
        if (field.Length > MostChars || !Encoding.UTF8.TryGetBytes(field, bytes, out int length))
        {
            return ColumnShape.Text;
        }

        if (TimeLexer.IsCompact(bytes[..length]))
        {
            return ColumnShape.Time;
        }

        NumberShape number = NumberLexer.Read(bytes[..length], mark, out _, out _);
        if (number != NumberShape.None)
        {
            return number == NumberShape.Missing ? ColumnShape.Empty : ColumnShape.Number;
        }

        if (known is null || !known.TryGetValue(field, out ColumnShape shape))
        {
            shape = ShapeOfOther(field, bytes[..length], mark);
            known?.Add(field, shape);
        }

        return shape;
    }

    private static ColumnShape ShapeOfOther(string field, ReadOnlySpan<byte> bytes, byte mark) =>
        UnitSuffix.TrySplit(field, out string bare, out _) && IsNumber(bare, mark) ? ColumnShape.Number
        : TimeLexer.TryRead(bytes, out _) ? ColumnShape.Time
        : field.Length > 0 && (char.IsAsciiDigit(field[0]) || field[0] is '[' or '(' or '{' or '<' or ' ' or '-') && ListColumn.FormOf(field, mark) is not null ? ColumnShape.List
        : ColumnShape.Text;

    private static bool IsNumber(string text, byte mark)
    {
        Span<byte> bytes = stackalloc byte[96];
        return text.Length <= 30 && Encoding.UTF8.TryGetBytes(text, bytes, out int length)
            && NumberLexer.Read(bytes[..length], mark, out _, out _) is not (NumberShape.None or NumberShape.Missing);
    }

    private static IEnumerable<string> FieldsOf(IReadOnlyList<HeadRow> rows, int first, int width, int column) =>
        rows.Skip(first).Where(row => row.Fields.Length == width && !row.IsComment).Select(row => row.Fields[column]);

    // The unit behind most values of a column; a value without it, or with another, is then no value of that column.
    private static string? CommonUnit(IReadOnlyList<HeadRow> rows, int first, int width, int column)
    {
        List<string> fields = [.. FieldsOf(rows, first, width, column).Select(field => field.Trim()).Where(field => field.AsSpan().ContainsAnyInRange('0', '9'))];
        var units = fields.Select(field => UnitSuffix.TrySplit(field, out _, out string unit) ? unit : null).Where(unit => unit is not null).GroupBy(unit => unit).MaxBy(group => group.Count());
        return units is not null && units.Count() * 2 > fields.Count ? units.Key : null;
    }

    private static ColumnShape[] Shapes(IReadOnlyList<HeadRow> rows, ColumnShape[][] looks, int[] values, int width)
    {
        var counts = new int[width, 5];
        for (int r = 0; r < looks.Length; r++)
        {
            if (values[r] >= 2 && looks[r].Length == width)
            {
                for (int c = 0; c < width; c++)
                {
                    counts[c, (int)looks[r][c]]++;
                }
            }
        }

        var shapes = new ColumnShape[width];
        for (int c = 0; c < width; c++)
        {
            int best = 0;
            for (int s = 1; s < 5; s++)
            {
                if (counts[c, s] > 0 && (best == 0 || counts[c, s] > counts[c, best]))
                {
                    best = s;
                }
            }

            shapes[c] = (ColumnShape)best;
            if (shapes[c] == ColumnShape.Number && counts[c, (int)ColumnShape.Text] >= 2 && NamesThePack(rows, looks, values, width, c))
            {
                shapes[c] = ColumnShape.Text;
            }
        }

        return shapes;
    }

    // Cells by their numbers, and in rows of its own the pack by a word: labels, and no damaged numbers.
    private static bool NamesThePack(IReadOnlyList<HeadRow> rows, ColumnShape[][] looks, int[] values, int width, int column)
    {
        List<string> words = [.. rows.Where((row, r) => values[r] >= 2 && row.Fields.Length == width && looks[r][column] == ColumnShape.Text).Select(row => row.Fields[column].Trim())];
        return words.GroupBy(word => word).MaxBy(group => group.Count()) is { } most && most.Count() > 1 && most.Count() * 10 >= words.Count * 8 && PackRows.IsPackWord(most.Key);
    }

    private static TableFrame? WithHeader(IReadOnlyList<HeadRow> rows, int first, int width, ColumnShape[] shapes, int key, Dialect dialect, out InputProblem? problem)
    {
        problem = null;
        byte mark = (byte)dialect.DecimalMark;
        var headerRows = new List<HeadRow>();
        var unitRows = new List<HeadRow>();
        int above = first - 1;
        while (above >= 0 && headerRows.Count < 2)
        {
            HeadRow row = rows[above];
            if (row.IsComment)
            {
                if (headerRows.Count == 0 && CommentedHeader(row, width, shapes) is { } uncommented)
                {
                    headerRows.Add(uncommented);
                    above--;
                }

                if (headerRows.Count == 0 && row.Fields.Length == width && width > 2 && IsMostlyValues(row with { Fields = row.Fields[1..] }))
                {
                    problem = MuchLikeSample(FirstStray(rows, first, width) ?? row);
                    return null;
                }

                if (headerRows.Count == 0)
                {
                    above--;
                    continue;
                }

                break;
            }

            if (headerRows.Count == 0 && above > 0 && IsNumbering(row, rows[above - 1]) && FitsHeader(rows[above - 1], width, shapes))
            {
                headerRows.Add(row);
                headerRows.Add(Spread(rows[above - 1], row));
                above -= 2;
                break;
            }

            // A ruler or a word of its own between the header and the samples.
            if (headerRows.Count == 0 && unitRows.Count == 0 && above > 0 && !row.Raw.Any(char.IsAsciiDigit) && (row.Fields.Count(field => field.Trim().Length > 0) == 1 || !row.Raw.Any(char.IsLetter)) && !IsUnitRow(row) && !NamesTable(HintsOf(row)) && FitsHeader(rows[above - 1], width, shapes) && NamesTable(HintsOf(rows[above - 1])))
            {
                above--;
                continue;
            }

            if (!FitsHeader(row, width, shapes))
            {
                // Where there is no header, what stands before the first sample and begins with a number is one that was damaged.
                if (headerRows.Count == 0 && unitRows.Count == 0 && (row.Fields.Length > 1 || row.Raw.TrimStart().StartsWith('"')) && BeginsWithNumber(row, mark) && SplitRow(row.Raw.Replace("\"", "", StringComparison.Ordinal).Trim(), dialect.Delimiter, dialect.Quote).Length >= 2)
                {
                    problem = MuchLikeSample(FirstStray(rows, first, width) ?? row);
                    return null;
                }

                if (headerRows.Count == 0 && row.Fields.Length * 2 > width && IsMostlyValues(row))
                {
                    problem = MuchLikeSample(FirstStray(rows, first, width) ?? row);
                    return null;
                }

                if (headerRows.Count == 0 && row.Fields.Length > 1 && row.Fields.Count(f => HeaderWords.Read(f, null).Quantity != Quantity.Unknown) >= 2)
                {
                    problem = Refusals.Refuse(
                        "header-width", row.Line, null, $"a header of {row.Fields.Length} fields above rows of {width}",
                        dialect.Delimiter == ',' && row.Fields.Length < width ? "correct the header, or the rows, so that each column has its own; if numbers have decimal commas, export with a semicolon or a tab between fields" : "correct the header, or the rows, so that each column has its own");
                    return null;
                }

                break;
            }

            bool isUnits = unitRows.Count == 0 && headerRows.Count == 0 && IsUnitRow(row);
            if (headerRows.Count == 1 && (IsLetters(row) || !IsFirstOfTwo(row, headerRows[0])))
            {
                break;
            }

            (isUnits ? unitRows : headerRows).Add(row);
            above--;
        }

        if (headerRows.Count == 0 && unitRows.Count > 0)
        {
            headerRows.AddRange(unitRows);
            unitRows.Clear();
        }

        if (headerRows.Count == 0 && FirstStray(rows, first, width) is { } stray)
        {
            problem = Refusals.Refuse("unexpected-line", stray.Line, null, $"\"{Refusals.Snippet(stray.Raw)}\" between a header and what would be the first sample", "correct or remove that line");
            return null;
        }

        headerRows.Reverse();
        var headers = new string?[width];
        for (int c = 0; c < width; c++)
        {
            string joined = string.Join(' ', headerRows.Where(h => c < h.Fields.Length).Select(h => h.Fields[c].Trim()).Where(f => f.Length > 0));
            headers[c] = joined.Length == 0 ? null : joined;
        }

        var units = new string?[width];
        foreach (HeadRow unitRow in unitRows)
        {
            for (int c = 0; c < width && c < unitRow.Fields.Length; c++)
            {
                string unit = unitRow.Fields[c].Trim();
                units[c] = unit.Length == 0 ? null : unit;
            }
        }

        var taken = headerRows.Concat(unitRows).Select(h => h.Line).ToHashSet();
        List<HeadRow> preamble = [.. rows.Take(first).Where(row => !taken.Contains(row.Line))];
        int firstLine = rows[first].Line;
        if (OtherwiseSplit(preamble, width, dialect) is { } rowBefore)
        {
            problem = Refusals.Refuse("second-table", rows[first].Line, null, $"a row split at {dialect.DelimiterName}, where rows before it are split otherwise: \"{Refusals.Snippet(rowBefore.Raw)}\"", "export the log again, or write all rows alike");
            return null;
        }

        if (HasTable(preamble))
        {
            HeadRow begin = headerRows.Concat(unitRows).MinBy(row => row.Line) ?? rows[first];
            problem = Refusals.Refuse("second-table", begin.Line, null, $"a second table begins: \"{Refusals.Snippet(begin.Raw)}\"", "split the file there");
            return null;
        }

        if (OtherMark(rows, first, width, shapes, headers, units, mark) is { } other)
        {
            problem = Refusals.Refuse(
                "mixed-marks", rows[first].Line, other + 1, $"\"{headers[other]}\" holds numbers, but not with {dialect.DecimalName}, as the other columns do", "export the log with one decimal mark for all columns");
            return null;
        }

        return new TableFrame
        {
            Width = width,
            FirstLine = firstLine,
            LineBefore = first > 0 ? rows[first - 1].Line + LinesOf(rows[first - 1]) - 1 : 0,
            FirstOffset = rows[first].Offset,
            HasQuotes = rows.Any(row => row.Raw.Contains(dialect.Quote, StringComparison.Ordinal)),
            Headers = headers,
            Units = units,
            HeaderTexts = [.. headerRows.Concat(unitRows).Select(h => rows.First(row => row.Line == h.Line).Raw)],
            HeaderLines = headerRows.Sum(LinesOf),
            UnitLines = unitRows.Sum(LinesOf),
            Preamble = preamble,
            PreambleLines = preamble.Sum(LinesOf),
            BlankLines = firstLine - 1 - preamble.Sum(LinesOf) - headerRows.Sum(LinesOf) - unitRows.Sum(LinesOf),
            Shapes = shapes,
            Lists = [.. shapes.Select((shape, c) => shape == ColumnShape.List ? CommonForm(rows, first, width, c, mark) : null)],
            ValueUnits = [.. shapes.Select((shape, c) => shape == ColumnShape.Number ? CommonUnit(rows, first, width, c) : null)],
            KeyColumn = KeyOf(key, headers, units, shapes),
        };
    }

    // No sample lacks its time, while any other value may be missing: where headers tell which is which, the time is what a row is known by.
    private static int KeyOf(int key, string?[] headers, string?[] units, ColumnShape[] shapes)
    {
        bool isOther = HeaderWords.Read(headers[key], units[key]).Quantity is not (Quantity.Unknown or Quantity.Elapsed or Quantity.Timestamp or Quantity.Clock or Quantity.Date);
        int time = !isOther ? -1 : Array.FindIndex(shapes, shape => shape == ColumnShape.Time);
        for (int c = 0; isOther && time < 0 && c < shapes.Length; c++)
        {
            time = shapes[c] == ColumnShape.Number && HeaderWords.Read(headers[c], units[c]) is { Quantity: Quantity.Elapsed or Quantity.Timestamp, IsDerived: false, IsBare: false } ? c : -1;
        }

        return time < 0 ? key : time;
    }

    private static InputProblem MuchLikeSample(HeadRow row) =>
        Refusals.Refuse("unexpected-line", row.Line, null, $"\"{Refusals.Snippet(row.Raw)}\" right before the first sample, and much like one", "correct or remove that line");

    // The line after a header, of the columns' own number, that the samples do not follow at once: a damaged row.
    private static HeadRow? FirstStray(IReadOnlyList<HeadRow> rows, int first, int width)
    {
        const int FurthestHeader = 4;
        for (int r = first - 2; r >= Math.Max(0, first - FurthestHeader); r--)
        {
            HeadRow row = rows[r];
            if (!row.IsComment && row.Fields.Length == width && width >= 3 && !IsMostlyValues(row) && NamesTable(HintsOf(row)))
            {
                return rows[r + 1].IsComment ? null : rows[r + 1];
            }
        }

        return null;
    }

    private static List<HeaderHint> HintsOf(HeadRow row) => [.. row.Fields.Select(field => HeaderWords.Read(field, null))];

    private static bool BeginsWithNumber(HeadRow row, byte mark)
    {
        string first = row.Raw.TrimStart().TrimStart('"').Split([';', ',', '\t', '|', ' '], 2)[0];
        return ShapeOf(first.Trim(), mark) is ColumnShape.Number or ColumnShape.Time && !Array.Exists(row.Fields, field => field.Any(char.IsLetter));
    }

    private static bool NamesTable(List<HeaderHint> hints) =>
        hints.Any(hint => hint.Quantity is Quantity.Elapsed or Quantity.Timestamp or Quantity.Date or Quantity.Clock) && hints.Any(hint => hint.Quantity is Quantity.Voltage or Quantity.Current || hint.IsCell);

    // Two lines on each other, before the table, that another delimiter splits into as many values, or a line that it splits into names of columns above one of values.
    private static HeadRow? OtherwiseSplit(List<HeadRow> preamble, int width, Dialect dialect)
    {
        const int LeastFields = 4;
        const int MostWords = 3;
        char quote = dialect.Quote;
        foreach (char delimiter in ";\t|, ".Where(other => other != dialect.Delimiter))
        {
            for (int r = 0; r < preamble.Count; r++)
            {
                string[] fields = Fields(preamble[r], delimiter);
                if (fields.Length < LeastFields)
                {
                    continue;
                }

                int words = fields.Count(field => !IsValue(field));
                bool isNext = r + 1 < preamble.Count && Fields(preamble[r + 1], delimiter) is var next && next.Length == fields.Length && IsRow(next);
                if ((words == 0 && (preamble.Count == 1 || fields.Length == width)) || (isNext && ((delimiter != ' ' && IsRow(fields)) || (words == 0 && fields.Length == width) || NamesTable([.. fields.Select(field => HeaderWords.Read(field, null))]))))
                {
                    return preamble[r];
                }
            }
        }

        return null;

        string[] Fields(HeadRow row, char delimiter) => row.IsComment ? [] : SplitRow(row.Raw.Trim(), delimiter, quote);

        // A mode, a pack or a note may stand among the values.
        static bool IsRow(string[] fields) => fields.Count(field => !IsValue(field)) is var words && words <= Math.Min(MostWords, fields.Length - MostWords) && IsValue(fields[0]);

        static bool IsValue(string field) => ShapeOf(field.Trim(), (byte)'.') is ColumnShape.Number or ColumnShape.Time or ColumnShape.Empty || ShapeOf(field.Trim(), (byte)',') is ColumnShape.Number or ColumnShape.Time;
    }

    private static string[] SplitRow(string row, char delimiter, char quote) =>
        row.Contains(delimiter, StringComparison.Ordinal) && Split(Encoding.UTF8.GetBytes(row), delimiter, quote) is [var only] ? only.Fields : [row];

    // Rows of samples under a header of their own: it names a time and a voltage, a current or a cell. A summary is no such table.
    private static bool HasTable(List<HeadRow> preamble)
    {
        for (int r = 0; r + 2 < preamble.Count; r++)
        {
            int width = preamble[r].Fields.Length;
            if (width >= 3 && !preamble[r].IsComment && !IsMostlyValues(preamble[r])
                && preamble.Skip(r + 1).SkipWhile(IsUnitRow).Take(2).Count(row => row.Fields.Length == width && !row.IsComment && IsMostlyValues(row)) == 2)
            {
                List<HeaderHint> hints = [.. preamble[r].Fields.Select(field => HeaderWords.Read(field, null))];
                if (NamesTable(hints))
                {
                    return true;
                }
            }
        }

        return false;
    }

    // A column that is named as one of numbers and holds them, only not under this decimal mark: the mark is not this one.
    private static int? OtherMark(IReadOnlyList<HeadRow> rows, int first, int width, ColumnShape[] shapes, string?[] headers, string?[] units, byte mark)
    {
        byte other = mark == (byte)'.' ? (byte)',' : (byte)'.';
        for (int c = 0; c < width; c++)
        {
            if (shapes[c] == ColumnShape.Text && HeaderWords.Read(headers[c], units[c]) is { Quantity: not Quantity.Unknown, Unit: not Unit.None })
            {
                List<string> fields = [.. FieldsOf(rows, first, width, c)];
                if (fields.Count(field => ShapeOf(field, other) == ColumnShape.Number) * 2 > fields.Count)
                {
                    return c;
                }
            }
        }

        return null;
    }

    private static ListForm CommonForm(IReadOnlyList<HeadRow> rows, int first, int width, int column, byte mark) =>
        rows.Skip(first).Where(row => row.Fields.Length == width).Select(row => ListColumn.FormOf(row.Fields[column], mark)).Where(form => form is not null)
            .GroupBy(form => form!).OrderByDescending(group => group.Count()).First().Key;

    private static int LinesOf(HeadRow row)
    {
        int breaks = row.Raw.Count(c => c == '\n') + row.Raw.Count(c => c == '\r');
        for (int at = row.Raw.IndexOf("\r\n", StringComparison.Ordinal); at >= 0; at = row.Raw.IndexOf("\r\n", at + 2, StringComparison.Ordinal))
        {
            breaks--;
        }

        return 1 + breaks;
    }

    private static bool FitsHeader(HeadRow row, int width, ColumnShape[] shapes)
    {
        int count = row.Fields.Length;
        bool widthFits = count == width
            || (count < width && shapes[count..].All(shape => shape == ColumnShape.Empty))
            || (count == width + 1 && string.IsNullOrWhiteSpace(row.Fields[^1]));
        return widthFits && !IsMostlyValues(row) && row.Fields.Any(field => field.Any(char.IsLetter) || field.Contains('#', StringComparison.Ordinal));
    }

    // A row of numbers is no header, whatever else is in it, unless the numbers only number cells. A unit behind a value is not a word for it.
    private static bool IsMostlyValues(HeadRow row)
    {
        ILookup<bool, string> fields = row.Fields.ToLookup(field => ShapeOf(field, (byte)'.') is ColumnShape.Number or ColumnShape.Time || ShapeOf(field, (byte)',') is ColumnShape.Number or ColumnShape.Time);
        List<string> values = [.. fields[true]];
        IEnumerable<string> words = CountUp(values) ? row.Fields : fields[false];
        return values.Count >= 2 && values.Count * 2 >= row.Fields.Length && words.Count(f => HeaderWords.Read(f, null).Quantity != Quantity.Unknown) < 2;
    }

    // 1 V, 2 V, 3 V.
    private static bool CountUp(List<string> fields)
    {
        int[] numbers = [.. fields.Select(field => int.TryParse(UnitSuffix.TrySplit(field, out string bare, out _) ? bare : field, NumberStyles.None, CultureInfo.InvariantCulture, out int number) ? number : -1)];
        return numbers is [0 or 1, ..] && numbers.Select((number, i) => number == numbers[0] + i).All(follows => follows);
    }

    // Below "Cell" and blanks: 1, 2, 3, or 1 mV, 2 mV; below other words there may be units.
    private static bool IsNumbering(HeadRow row, HeadRow upper)
    {
        int[] places = [.. Enumerable.Range(0, row.Fields.Length).Where(c => row.Fields[c].Trim().Length > 0 && UnitMarks.Parse(row.Fields[c]) == Unit.None)];
        (int Value, string Unit)[] numbers = [.. places.Select(c => Numbered(row.Fields[c].Trim()))];
        return numbers.Length is >= 2 and <= 32 && numbers.Length < row.Fields.Length && upper.Fields.Length == row.Fields.Length
            && numbers.GroupBy(number => number.Unit).All(group => group.Min(number => number.Value) is 0 or 1 && group.Select(number => number.Value).Order().SequenceEqual(Enumerable.Range(group.Min(number => number.Value), group.Count())))
            && HeaderWords.Read(upper.Fields[places[0]], null) is { IsCell: true } or { Quantity: Quantity.Voltage, IsDerived: false };
    }

    // "1" or "1 mV"; -1 for what is neither.
    private static (int Value, string Unit) Numbered(string field)
    {
        bool hasUnit = UnitSuffix.TrySplit(field, out string bare, out string unit);
        return (int.TryParse(hasUnit ? bare.Trim() : field, NumberStyles.None, CultureInfo.InvariantCulture, out int value) ? value : -1, hasUnit ? unit : "");
    }

    // The word over the first number stands for those after it whose own field is blank.
    private static HeadRow Spread(HeadRow upper, HeadRow numbers)
    {
        string[] fields = [.. upper.Fields];
        for (int c = 1; c < fields.Length; c++)
        {
            if (fields[c].Trim().Length == 0 && numbers.Fields[c].Trim().Length > 0)
            {
                fields[c] = fields[c - 1];
            }
        }

        return upper with { Fields = fields };
    }

    // The sign of a comment, or of a number, before a header; rows may end with a delimiter that the header lacks.
    private static HeadRow? CommentedHeader(HeadRow row, int width, ColumnShape[] shapes)
    {
        bool openEnd = shapes[width - 1] == ColumnShape.Empty;
        string[] fields = [.. row.Fields];
        bool isNumber = fields[0].Trim() == "#" && fields.Length == width && !openEnd;
        fields[0] = isNumber ? "#" : fields[0].TrimStart().TrimStart('#', '/', '%').TrimStart();
        if (fields[0].Length == 0 && (fields.Length == width + 1 || (openEnd && fields.Length == width && fields[^1].Trim().Length > 0)))
        {
            fields = fields[1..];
        }

        return (fields.Length == width || (openEnd && fields.Length == width - 1)) && fields.Count(f => HeaderWords.Read(f, null).Quantity != Quantity.Unknown) >= 2
            ? row with { Fields = fields }
            : null;
    }

    private static bool IsUnitRow(HeadRow row) =>
        row.Fields.All(field => string.IsNullOrWhiteSpace(field) || UnitMarks.IsUnitField(field) || ScaledUnits.IsOne(field)) && row.Fields.Count(field => UnitMarks.IsUnitField(field)) >= 2;

    // The upper line of a two-line header names what the lower one numbers or gives units for.
    private static bool IsFirstOfTwo(HeadRow upper, HeadRow lower)
    {
        int lowerKnown = lower.Fields.Count(f => HeaderWords.Read(f, null).Quantity != Quantity.Unknown);
        int upperKnown = upper.Fields.Count(f => HeaderWords.Read(f, null) is { Quantity: not Quantity.Unknown } or { IsCell: true });
        return upperKnown >= 2 || (upperKnown >= 1 && lowerKnown < lower.Fields.Length);
    }
}
