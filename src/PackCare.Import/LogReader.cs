using System.Globalization;
using System.Text;
using PackCare.Core.Reading;
using PackCare.Core.Samples;
using PackCare.Import.Archives;
using PackCare.Import.Guides;
using PackCare.Import.Lexing;
using PackCare.Import.Meanings;
using PackCare.Import.Tables;
using PackCare.Import.Text;

namespace PackCare.Import;

/// <summary>Reads generic charge-session logs. The outcome is right or refused, never a guess.</summary>
public static class LogReader
{
    private const int HeadBytes = 1 << 17;

    private static readonly char[] Delimiters = [';', '\t', '|', ',', ' '];

    /// <summary>Reads one log.</summary>
    /// <param name="bytes">The log, from its first byte; must be seekable.</param>
    /// <param name="source">Where it comes from.</param>
    /// <param name="options">What the user fixed.</param>
    /// <returns>Sessions, or at least one problem of level <see cref="ProblemLevel.Refusal"/>; the ledger balances either way.</returns>
    /// <exception cref="OperationCanceledException">Nobody wants the log any more.</exception>
    public static ReadResult Read(Stream bytes, LogSource source, ReadOptions options)
    {
        ArgumentNullException.ThrowIfNull(bytes);
        ArgumentNullException.ThrowIfNull(source);
        ArgumentNullException.ThrowIfNull(options);
        if (options.Guide?.Zone is { } zone && TimeZoneInfo.TryFindSystemTimeZoneById(zone, out TimeZoneInfo? found))
        {
            options = options with { Zone = found };
        }

        if (FileMark.NameOf(bytes, out _) is { } mark)
        {
            return Nothing(0, Refusals.Refuse("not-a-log", null, null, $"{mark} is no log", "export the log as a table of text, one row a sample"));
        }

        LogText? text = TextProbe.Probe(bytes, options.Guide?.Encoding, out InputProblem? problem, out int lines);
        if (text is null)
        {
            return Nothing(lines, problem!);
        }

        byte[] head = text.Head(HeadBytes, out bool whole);
        List<Hypothesis> hypotheses = Hypotheses(head, whole, options.Guide, out InputProblem? noTable);
        if (hypotheses.Count == 0)
        {
            return Nothing(lines, noTable!);
        }

        if (!whole && hypotheses.Count > 1)
        {
            hypotheses = Promising(hypotheses, head, source, options);
        }

        List<Outcome> outcomes = [];
        foreach (Hypothesis hypothesis in hypotheses)
        {
            outcomes.Add(Interpreter.Run(text, hypothesis.Frame, hypothesis.Dialect, source, options));
        }

        if (options.Guide?.DecimalMark is null)
        {
            RunOtherMark(outcomes, hypotheses, text, head, whole, source, options);
        }

        if (noTable?.Line is not null && outcomes.All(outcome => outcome.Stage <= 1))
        {
            return Nothing(lines, noTable);
        }

        return WithEncodingNotice(Choose(outcomes, hypotheses), text);
    }

    private sealed record Hypothesis(Dialect Dialect, TableFrame Frame);

    private static ReadResult Nothing(int lines, InputProblem problem) => new(null, Ledger.Empty with { Lines = lines, Dropped = lines }, [], [problem]);

    // Each delimiter with each decimal mark under which the beginning of the log makes a table.
    private static List<Hypothesis> Hypotheses(byte[] head, bool isWhole, ReadingGuide? guide, out InputProblem? noTable)
    {
        noTable = null;
        var hypotheses = new List<Hypothesis>();
        var splits = new Dictionary<char, List<HeadRow>>();
        char[] delimiters = guide?.Delimiter is char guided ? [guided] : StatedDelimiter(head) is char stated ? [stated] : Delimiters;
        foreach (char delimiter in delimiters)
        {
            if (!head.Contains((byte)delimiter))
            {
                noTable ??= FrameFinder.NoRows(new Dialect(delimiter, '.', '"'));
                continue;
            }

            char quote = FrameFinder.HasApostrophes(head, delimiter) ? '\'' : '"';
            List<HeadRow> rows = FrameFinder.Split(head, delimiter, quote, isWhole);
            var found = new List<(Hypothesis Hypothesis, int Numbers, bool Either)>();
            InputProblem? other = null;
            foreach (char mark in guide?.DecimalMark is char guidedMark ? (char[])[guidedMark] : ['.', ','])
            {
                var dialect = new Dialect(delimiter, mark, quote);
                TableFrame? frame = FrameFinder.Find(rows, dialect, out InputProblem? problem);
                if (frame is null)
                {
                    // Under the wrong mark rows that are sound look damaged, further down.
                    other = other is null || (problem is { Line: { } line } && !(other.Line <= line)) ? problem ?? other : other;
                    continue;
                }

                (int numbers, bool either) = CountNumbers(rows, frame.Width, (byte)mark);
                found.Add((new Hypothesis(dialect, frame), numbers, either));
            }

            // Blanks beside another delimiter only pad its fields.
            if (delimiter == ' ' && found.Count > 0 && hypotheses.Any(known => FrameFinder.PadsWithBlanks(rows, found[0].Hypothesis.Frame.Width, known.Dialect.Delimiter)))
            {
                continue;
            }

            // What is wrong under one mark matters only where the other makes no table either.
            if (other is not null && (noTable is null || (other.Line is not null && !(other.Code == "second-table" && noTable.Line is not null))) && (found.Count == 0 || other.Line is null))
            {
                noTable = other;
            }

            if (found.Count == 2 && (found[0].Numbers != found[1].Numbers || !(found[0].Either || found[1].Either)))
            {
                found.RemoveAt(found[0].Numbers >= found[1].Numbers ? 1 : 0);
            }

            hypotheses.AddRange(found.Select(f => f.Hypothesis));
            splits[delimiter] = rows;
        }

        // What is split at the wrong place leaves fields of words in which the right delimiter stands.
        hypotheses.RemoveAll(wrong => hypotheses.Exists(right => Leaves(wrong, right) && !Leaves(right, wrong)));
        bool Leaves(Hypothesis one, Hypothesis other) => FrameFinder.LeavesInWords(splits[one.Dialect.Delimiter], one.Frame, other.Dialect.Delimiter);

        // Which delimiter was tried first says nothing where none makes a table.
        if (noTable is { Line: null, Code: "no-table" } && delimiters.Length > 1)
        {
            noTable = AreQuotedWhole(head) ? Refusals.Refuse("no-table", null, null, "no table: each line is in quotes as a whole, and so one field", "export the log without quotes around whole lines")
                : Refusals.Refuse("no-table", null, null, "no table: nowhere are there rows of numbers", "export the log as a table with one row a sample; if this is no log, leave it out");
        }

        if (noTable is { Line: null, Code: "no-table" } && guide?.Delimiter is null && delimiters is [var only] && hypotheses.Count == 0)
        {
            noTable = Refusals.Refuse("no-table", 1, null, $"a first line that states {new Dialect(only, '.', '"').DelimiterName} between fields, and no table that is so written", "correct that line, or take it out");
        }

        return hypotheses;
    }

    private static bool AreQuotedWhole(byte[] head)
    {
        if (!head.Contains((byte)'"'))
        {
            return false;
        }

        string[] lines = [.. Encoding.UTF8.GetString(head).Split('\n').Select(line => line.Trim()).Where(line => line.Length > 0)];
        return lines.Length > 2 && lines.SkipLast(1).All(line => line.Length > 2 && line[0] == '"' && line[^1] == '"' && !line[1..^1].Contains('"', StringComparison.Ordinal) && line.AsSpan().ContainsAny(";,|\t"));
    }

    // A first line "sep=;" states the delimiter.
    private static char? StatedDelimiter(byte[] head)
    {
        int end = head.AsSpan().IndexOfAny((byte)'\n', (byte)'\r');
        string first = Encoding.UTF8.GetString(head.AsSpan(0, Math.Clamp(end, 0, 16))).Trim().Trim('"');
        return first.Length == 5 && first.StartsWith("sep=", StringComparison.OrdinalIgnoreCase) && Delimiters.Contains(first[4]) ? first[4] : null;
    }

    private static (int Numbers, bool Either) CountNumbers(List<HeadRow> rows, int width, byte mark)
    {
        int numbers = 0;
        bool either = false;
        Span<byte> bytes = stackalloc byte[96];
        foreach (HeadRow row in rows)
        {
            if (row.Fields.Length != width || row.IsComment)
            {
                continue;
            }

            foreach (string field in row.Fields)
            {
                numbers += field.Length > 0 && field[0] is '[' or '(' or '{' or '<' && ListColumn.FormOf(field, mark) is not null ? 1 : 0;
                string number = field.Length is > 1 and <= 32 && UnitSuffix.TrySplit(field, out string bare, out _) ? bare : field;
                if (number.Length is > 0 and <= 32 && Encoding.UTF8.TryGetBytes(number, bytes, out int length))
                {
                    NumberShape shape = NumberLexer.Read(bytes[..length], mark, out _, out _);
                    numbers += shape is NumberShape.None or NumberShape.Missing ? 0 : 1;
                    either |= shape == NumberShape.EitherMark;
                }
            }
        }

        return (numbers, either);
    }

    private static List<Hypothesis> Promising(List<Hypothesis> hypotheses, byte[] head, LogSource source, ReadOptions options)
    {
        using var stream = new MemoryStream(head, writable: false);
        LogText? text = TextProbe.Probe(stream, null, out _, out _);
        if (text is null)
        {
            return hypotheses;
        }

        List<(Hypothesis Hypothesis, int Stage)> tried = [.. hypotheses.Select(h => (h, Interpreter.Run(text, h.Frame, h.Dialect, source, options).Stage))];
        int best = tried.Max(t => t.Stage);
        return [.. tried.Where(t => t.Stage >= Math.Min(best, 3)).Select(t => t.Hypothesis)];
    }

    // Where no number in the whole log tells the decimal mark, the other one is tried as well.
    private static void RunOtherMark(List<Outcome> outcomes, List<Hypothesis> hypotheses, LogText text, byte[] head, bool isWhole, LogSource source, ReadOptions options)
    {
        for (int h = hypotheses.Count - 1; h >= 0; h--)
        {
            RawColumn[] columns = outcomes[h].Table.Columns;
            char other = hypotheses[h].Dialect.DecimalMark == '.' ? ',' : '.';
            Dialect dialect = hypotheses[h].Dialect with { DecimalMark = other };
            if (columns.Any(column => column.SawEitherMark) && !columns.Any(column => column.SawProof) && !hypotheses.Any(known => known.Dialect == dialect)
                && FrameFinder.Find(FrameFinder.Split(head, dialect.Delimiter, dialect.Quote, isWhole), dialect, out _) is { } frame)
            {
                hypotheses.Add(new Hypothesis(dialect, frame));
                outcomes.Add(Interpreter.Run(text, frame, dialect, source, options));
            }
        }
    }

    private static ReadResult Choose(List<Outcome> outcomes, List<Hypothesis> hypotheses)
    {
        List<int> read = [.. Enumerable.Range(0, outcomes.Count).Where(o => outcomes[o].IsRead)];
        if (read.Count == 0)
        {
            // Under a wrong dialect a log fails at its first rows; under the right one at the damage.
            List<Outcome> furthest = [.. outcomes.OrderByDescending(outcome => outcome.Stage).ThenByDescending(RefusedAt)];

            // Under the wrong decimal mark a column is a thousand times too large; what is no number is none under either.
            Outcome refused = CodeOf(furthest[0]) == "voltage-range" && furthest.Find(outcome => outcome.Stage == furthest[0].Stage && CodeOf(outcome) == "not-a-number") is { } none ? none : furthest[0];
            return DamagedRow.PointAt(refused.Result, refused.Table);
        }

        // What a wrong delimiter leaves may pass for one voltage, but not for several cells beside each other.
        if (read.Exists(o => Cells(outcomes[o]) >= 2))
        {
            read.RemoveAll(o => Cells(outcomes[o]) == 0);
        }

        // Cells that add up to another column in every row are proved; what else the digits could be split into is not.
        if (read.Exists(o => AddUp(outcomes[o])))
        {
            read.RemoveAll(o => !AddUp(outcomes[o]));
        }

        // Two that agree in all they share, and one of which makes sense of a column more.
        List<int> parts = read.FindAll(o => read.Exists(more => more != o && IsPartOf(outcomes[o].Result, outcomes[more].Result)));
        read.RemoveAll(parts.Contains);

        ReadResult first = outcomes[read[0]].Result;
        foreach (int other in read.Skip(1))
        {
            if (!Same(first, outcomes[other].Result))
            {
                Dialect a = hypotheses[read[0]].Dialect;
                Dialect b = hypotheses[other].Dialect;
                InputProblem problem = Refusals.Refuse(
                    a.Delimiter == b.Delimiter ? "ambiguous-decimal" : "ambiguous-delimiter",
                    outcomes[read[0]].Table.LineOf(0), null,
                    $"two readings fit and differ: {a.DelimiterName} with {a.DecimalName} ({Shown(first, outcomes[other].Result)}), or {b.DelimiterName} with {b.DecimalName} ({Shown(outcomes[other].Result, first)})",
                    $"say which in a reading guide: \"decimal\": \".\" or \",\"{(a.Delimiter == b.Delimiter ? "" : ", and the \"delimiter\"")}");
                return new ReadResult(Common(first.Reading!, outcomes[other].Result.Reading!), Interpreter.Refused(first.Ledger), [], [problem]);
            }
        }

        return first;
    }

    // What two readings have in common; the rest of the first is open.
    private static LogReading Common(LogReading one, LogReading other)
    {
        var agreed = other.Columns.Select(column => (column.Index, column.Meaning, column.Unit, column.Cell)).ToHashSet();
        return one with
        {
            Columns = [.. one.Columns.Select(column => agreed.Contains((column.Index, column.Meaning, column.Unit, column.Cell)) ? column
                : column with { Meaning = ColumnMeaning.Ignored, Unit = null, Cell = null, Why = "two readings differ in it" })],
            Reasons = [],
        };
    }

    private static string? CodeOf(Outcome outcome) => outcome.Result.Problems.FirstOrDefault(problem => problem.Level == ProblemLevel.Refusal)?.Code;

    private static int RefusedAt(Outcome outcome) =>
        outcome.Result.Problems.FirstOrDefault(problem => problem.Level == ProblemLevel.Refusal)?.Line is int line && outcome.Table.Rows > 0 && line > outcome.Table.LineOf(0) ? line : 0;

    private static bool AddUp(Outcome outcome) => Cells(outcome) >= 2 && outcome.Result.Reading!.Columns.Any(column => column.Meaning == ColumnMeaning.PackVoltage);

    private static int Cells(Outcome outcome) => outcome.Result.Sessions.Max(session => session.Samples.CellCount);

    // The first row in which two readings differ, as one of them has it; the first row of all where they differ in more than values.
    private static string Shown(ReadResult result, ReadResult other)
    {
        (List<Channel> own, List<Channel> others) = ([.. result.Sessions[0].Samples.Channels], [.. other.Sessions[0].Samples.Channels]);
        int row = 0;
        if (own.Select(channel => channel.Key).SequenceEqual(others.Select(channel => channel.Key)) && result.Sessions[0].Samples.Count == other.Sessions[0].Samples.Count)
        {
            row = own.Zip(others).Min(pair => pair.First.ToDecimals().Zip(pair.Second.ToDecimals()).TakeWhile(values => values.First == values.Second).Count());
            row = row == result.Sessions[0].Samples.Count ? 0 : row;
        }

        return string.Join(", ", own.Take(6).Select(channel => $"{Name(channel.Key)} {channel.ToDecimals().ElementAtOrDefault(row)?.ToString("0.############", CultureInfo.InvariantCulture) ?? "-"}{Unit(channel.Key.Kind)}"));

        static string Name(ChannelKey key) => $"{key.Kind switch
        {
            ChannelKind.Time => "time",
            ChannelKind.CellVoltage => "cell ",
            ChannelKind.PackVoltage => "pack",
            ChannelKind.Current => "current",
            ChannelKind.Charge => "charge",
            ChannelKind.Energy => "energy",
            ChannelKind.Temperature => "temperature ",
            _ => "resistance ",
        }}{(key.Index > 0 ? key.Index.ToString(CultureInfo.InvariantCulture) : "")}";
        static string Unit(ChannelKind kind) => kind switch
        {
            ChannelKind.Time => " s",
            ChannelKind.CellVoltage or ChannelKind.PackVoltage => " V",
            ChannelKind.Current => " A",
            ChannelKind.Charge => " Ah",
            ChannelKind.Energy => " Wh",
            ChannelKind.Temperature => " °C",
            _ => " ohm",
        };
    }

    private static bool IsPartOf(ReadResult part, ReadResult whole) =>
        part.Sessions.Count == whole.Sessions.Count && part.Sessions.Zip(whole.Sessions).All(pair =>
        {
            Dictionary<ChannelKey, Channel> more = pair.Second.Samples.Channels.ToDictionary(channel => channel.Key);
            List<Channel> all = [.. pair.First.Samples.Channels];
            return all.Count < more.Count && pair.First.Started == pair.Second.Started && pair.First.PackHint == pair.Second.PackHint
                && all.TrueForAll(channel => more.TryGetValue(channel.Key, out Channel? same) && channel.ToDecimals().SequenceEqual(same.ToDecimals()));
        });

    private static bool Same(ReadResult a, ReadResult b)
    {
        if (a.Sessions.Count != b.Sessions.Count)
        {
            return false;
        }

        for (int s = 0; s < a.Sessions.Count; s++)
        {
            if (a.Sessions[s].Started != b.Sessions[s].Started || a.Sessions[s].PackHint != b.Sessions[s].PackHint)
            {
                return false;
            }

            List<Channel> left = [.. a.Sessions[s].Samples.Channels];
            List<Channel> right = [.. b.Sessions[s].Samples.Channels];
            if (left.Count != right.Count || left.Zip(right).Any(pair => pair.First.Key != pair.Second.Key || !pair.First.ToDecimals().SequenceEqual(pair.Second.ToDecimals())))
            {
                return false;
            }
        }

        return true;
    }

    private static ReadResult WithEncodingNotice(ReadResult result, LogText text) => !text.IsLegacy ? result : result with
    {
        Problems = [Refusals.Notice("encoding", null, null, "bytes that are not UTF-8, taken for Windows-1252", "check that the headers look right"), .. result.Problems],
    };
}
