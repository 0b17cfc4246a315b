using System.Globalization;
using System.Text;
using CsCheck;
using PackCare.Import.Lexing;
using PackCare.Import.Tables;
using PackCare.Import.Text;

namespace PackCare.Import.Tests;

/// <summary>Rows that need no CSV rules are read by a way of their own; it must not be told from the CSV reader by what comes out.</summary>
public class PlainRowsTests
{
    private static readonly ReadOptions Options = new(null, TimeZoneInfo.Utc);

    [Fact]
    public void Whole_and_damaged_logs_make_the_same_table_both_ways()
    {
        foreach (int seed in Seeds.OfThisRun(usual: 200))
        {
            var random = new Random(seed);
            byte[] log = LogWriter.Make(random).Write(GeneratedSession.Make(random), out _);
            AssertSame(random.Next(3) == 0 ? log : Damage.Anywhere(log, random), $"seed {seed}");
        }
    }

    [Fact]
    public void Every_kept_file_makes_the_same_table_both_ways()
    {
        foreach (string file in Directory.GetFiles(Path.Combine(AppContext.BaseDirectory, "Files"), "*.csv"))
        {
            AssertSame(File.ReadAllBytes(file), Path.GetFileName(file));
        }
    }

    // Longer than what is taken in at once, with rows, blank lines and ends that fall anywhere in it.
    [Theory]
    [InlineData("\n", 0)]
    [InlineData("\r\n", 0)]
    [InlineData("\r\n", 7)]
    [InlineData("\n", 1)]
    public void A_long_log_makes_the_same_table_both_ways(string lineEnd, int blankEvery)
    {
        var random = new Random(blankEvery);
        var text = new StringBuilder("time,v1,v2,a").Append(lineEnd);
        for (int row = 0; row < 40_000; row++)
        {
            text.Append(row).Append(',').Append(3.7 + (random.Next(900) / 1000.0)).Append(",4.").Append(random.Next(1000)).Append(',').Append(random.Next(-99_999, 99_999) / 100.0).Append(lineEnd);
            if (blankEvery > 0 && row % blankEvery == 0)
            {
                text.Append(lineEnd);
            }
        }

        AssertSame(Encoding.UTF8.GetBytes(text.ToString()), "long");
        AssertSame(Encoding.UTF8.GetBytes(text.ToString(0, text.Length - 3)), "long, cut");
        AssertSame(Encoding.UTF8.GetBytes(text.ToString().Insert(text.Length - 900, "# a remark" + lineEnd)), "long, with a remark");
    }

    [Fact]
    public void A_short_plain_number_is_read_as_the_lexer_reads_it()
    {
        Gen<string> any = Gen.Frequency(
            (6, Gen.Select(Gen.Bool, Gen.String[Gen.Char['0', '9'], 0, 9], Gen.Bool, Gen.String[Gen.Char['0', '9'], 0, 9], (minus, whole, marked, rest) => $"{(minus ? "-" : "")}{whole}{(marked ? "." : "")}{rest}")),
            (1, Gen.String[Gen.Char[".,-+/0129 eENan'#x"], 0, 10]));
        any.Array[1, 30].Sample(fields =>
        {
            string text = string.Concat(fields.Select((field, row) => $"{row};{field}\n"));
            using var stream = new MemoryStream(Encoding.UTF8.GetBytes(text));
            PlainRows rows = Assert.IsType<PlainRows>(new PlainReader(stream, (byte)';', (byte)'.', 2, 1, _ => { }).Next());
            Assert.NotEqual(0, rows.Count);
            for (int row = 0; row < rows.Count; row++)
            {
                NumberShape shape = NumberLexer.Read(rows.Field(row, 1), (byte)'.', out long value, out int decimals);
                foreach (int kept in (int[])[0, 3, 7, 12])
                {
                    var numbers = new PlainNumbers();
                    long[] read = [0];
                    if (numbers.Read(rows, 1, row, read, kept, (byte)'.') == 1)
                    {
                        Assert.True(shape is NumberShape.Whole or NumberShape.Proof or NumberShape.EitherMark, fields[row]);
                        Assert.Equal(value * (decimal)Math.Pow(10, kept - decimals), read[0]);
                        Assert.Equal((shape == NumberShape.EitherMark, shape == NumberShape.Proof), (numbers.SawEitherMark, numbers.SawProof));
                        Assert.Equal(decimals < kept ? 1 : 0, numbers.Fewer[Math.Min(decimals, 7)]);
                    }
                    else
                    {
                        // What is left to the lexer: nothing that is short, plain and fits the decimals kept.
                        string digits = fields[row].StartsWith('-') ? fields[row][1..] : fields[row];
                        Assert.False(digits.Length is > 0 and <= 8 && digits.All(c => char.IsAsciiDigit(c)) && kept < 8, fields[row]);
                    }
                }
            }
        });
    }

    [Fact]
    public void Numbers_in_a_row_are_read_as_one_by_one() =>
        Gen.Select(Gen.Int[0, 5], Gen.Int[1, 7], Gen.Bool, Gen.Bool).SelectMany((decimals, digits, negative, first) => Gen.Select(
            Gen.Frequency(
                (40, Gen.Int[0, (int)Math.Pow(10, digits) - 1].Select(value => (value / (decimal)Math.Pow(10, decimals)).ToString("F" + decimals, CultureInfo.InvariantCulture))),
                (negative ? 10 : 0, Gen.Int[-999, 0].Select(value => (value / 10m).ToString("F" + decimals, CultureInfo.InvariantCulture))),
                (1, Gen.String[Gen.Char[".,-0129 e"], 0, 9])).Array[1, 200],
            Gen.Const(decimals), Gen.Const(first ? 0 : 1))).Sample((fields, decimals, column) =>
        {
            string text = string.Concat(fields.Select((field, row) => column == 0 ? $"{field};{row}\n" : $"{row};{field}\n"));
            using var stream = new MemoryStream(Encoding.UTF8.GetBytes(text));
            PlainRows rows = Assert.IsType<PlainRows>(new PlainReader(stream, (byte)';', (byte)'.', 2, 1, _ => { }).Next());
            var together = new PlainNumbers();
            long[] values = new long[rows.Count];
            int read = together.Read(rows, column, 0, values, decimals, (byte)'.');

            var singly = new PlainNumbers();
            long[] value = [0];
            for (int row = 0; row < read; row++)
            {
                Assert.Equal(1, singly.Read(rows, column, row, value, decimals, (byte)'.'));
                Assert.Equal(value[0], values[row]);
            }

            Assert.Equal((singly.SawEitherMark, singly.SawProof, singly.CountFewer(decimals)), (together.SawEitherMark, together.SawProof, together.CountFewer(decimals)));
            Assert.True(read == rows.Count || singly.Read(rows, column, read, value, decimals, (byte)'.') == 0);
        });

    private static void AssertSame(byte[] log, string story)
    {
        using var stream = new MemoryStream(log, writable: false);
        if (TextProbe.Probe(stream, null, out _, out _) is not { } text)
        {
            return;
        }

        byte[] head = text.Head(1 << 17, out _);
        foreach (char delimiter in ";\t|, ")
        {
            foreach (char mark in ".,")
            {
                var dialect = new Dialect(delimiter, mark);
                if (FrameFinder.Find(FrameFinder.Split(head, delimiter, '"'), dialect, out _) is { } frame)
                {
                    RawTable plain = TableParser.Parse(text, frame, dialect, Options);
                    RawTable csv = TableParser.Parse(text, frame, dialect, Options, allByCsv: true);
                    Assert.True(Told(csv) == Told(plain), $"{story}, {dialect}:\n{Told(csv)}\n{Told(plain)}");
                }
            }
        }
    }

    private static string Told(RawTable table) => string.Join('\n',
    [
        $"{table.Rows} rows; {table.Ledger}; restarts {string.Join(' ', table.Restarts)}; lines {Bytes(table.LineBlocks)}",
        .. table.Problems.Select(problem => problem.ToString()),
        .. table.Remarks,
        .. table.Columns.Select(column =>
            $"{column.Index} {column.Shape} {column.Present} {column.MinDecimals}-{column.MaxDecimals} {column.SawEitherMark} {column.SawProof} failed {column.FailedLine} {column.FailedText} "
            + $"odd {column.OddDecimalsLine} {column.TimeShape} {column.OrderKnown} {column.MaxFirst} {column.MaxSecond} {column.FractionDigits} {column.TooManyWords} [{string.Join('|', column.Words)}] "
            + $"{column.Profile.Count} {column.Profile.Min:R} {column.Profile.Max:R} {column.Profile.SumOfSteps:R} {Bytes(column.Values)} {Bytes(column.Dates)} {Bytes(column.Offsets)}"),
    ]);

    private static string Bytes(IEnumerable<Core.Samples.SampleBlock> blocks) =>
        string.Join(' ', blocks.Select(block => $"{block.Count}:{Convert.ToHexString(System.Security.Cryptography.SHA256.HashData(block.Encoded.Span))[..12]}"));
}
