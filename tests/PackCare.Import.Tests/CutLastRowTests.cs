using System.Globalization;
using System.Text;
using PackCare.Core.Reading;

namespace PackCare.Import.Tests;

/// <summary>Logs that end without a line end: whole ones are read, cut ones are not. All data is invented.</summary>
public class CutLastRowTests
{
    private const int Rows = 40;

    /// <summary>A header and what its column holds in each row, with a last column of every kind that varies in length.</summary>
    private static readonly Dictionary<string, (string Header, Func<int, string> Field)> Columns = new(StringComparer.Ordinal)
    {
        ["counter"] = ("charge [mAh]", row => Text($"{4013 + row}")),
        ["counter over a thousand"] = ("charge [mAh]", row => Text($"{970 + row}")),
        ["counter from nought"] = ("charge [mAh]", row => Text($"{row}")),
        ["millivolts"] = ("pack [mV]", row => Text($"{7600 + (row * 5)}")),
        ["millivolts that fall"] = ("note", row => Text($"{1020 - row}")),
        ["whole degrees"] = ("temperature [°C]", row => Text($"{24 + (row / 15)}")),
        ["degrees below nought"] = ("temperature [°C]", row => Text($"{-14 + (row / 15)}")),
        ["constant"] = ("limit", _ => "4200"),
        ["pulses"] = ("note", row => row % 4 < 2 ? "0" : "4050"),
        ["decimals"] = ("temperature [°C]", row => Text($"{24 + (row * 0.02):0.00}")),
        ["decimals without noughts at their end"] = ("temperature [°C]", row => Text($"{24 + (row * 0.013):0.###}")),
        ["exponents"] = ("note", row => Text($"{1234 + row:0.0000E+00}")),
        ["padded"] = ("note", row => Text($"{400 + row:00000}")),
        ["words"] = ("phase", row => row < 30 ? "constant current" : "constant voltage"),
        ["quoted"] = ("temperature [°C]", row => Text($"\"{24 + (row / 15)}\"")),
        ["times"] = ("clock", row => Text($"{9 + (row / 30)}:{row * 2 % 60:00}:{row % 60:00}")),
        ["stamps"] = ("stamp", row => Text($"2026-03-14T09:{row / 6:00}:{row % 6 * 10:00}+01:00")),
        ["fractions"] = ("clock", row => Text($"00:{row / 6:00}:{row % 6 * 10:00}.{row * 7 % 100:00}")),
        ["units"] = ("temperature", row => Text($"{24 + (row / 15)} °C")),
    };

    public static TheoryData<string> Kinds => [.. Columns.Keys];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void A_last_row_cut_anywhere_is_refused(string kind)
    {
        string text = Log(Columns[kind]);
        int start = text.LastIndexOf('\n') + 1;
        for (int end = start + 1; end < text.Length; end++)
        {
            ReadResult result = Logs.ReadText(text[..end]);

            InputProblem? refusal = result.Problems.FirstOrDefault(problem => problem.Level == ProblemLevel.Refusal);
            Assert.True(refusal?.Line == Rows + 1, $"{text[start..end]} of {text[start..]}: {refusal?.ToString() ?? "it was read"}");
        }
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void A_whole_last_row_without_a_line_end_is_read_as_with_one(string kind)
    {
        string text = Log(Columns[kind]);

        ReadResult with = Logs.ReadText(text + "\n");
        ReadResult without = Logs.ReadText(text);

        Assert.Equal(with.Problems, without.Problems);
        Assert.False(without.Refused, string.Join('\n', without.Problems));
        Assert.Equal(Rows, without.Sessions[0].Samples.Count);
    }

    [Theory]
    [InlineData("0")]
    [InlineData("14009")]
    [InlineData("140111")]
    public void A_last_value_that_cannot_be_the_beginning_of_its_like_is_read(string last)
    {
        ReadResult result = Logs.ReadText(Log(("note", row => row == Rows - 1 ? last : Text($"{14000 + row}"))));

        Assert.False(result.Refused, string.Join('\n', result.Problems));
    }

    [Fact]
    public void A_cut_row_is_left_out_and_named_where_that_is_allowed()
    {
        string text = Log(Columns["counter"]);
        using var stream = new MemoryStream(Encoding.UTF8.GetBytes(text[..^2]));

        ReadResult result = LogReader.Read(stream, new LogSource("log.csv", Logs.Written), new ReadOptions(null, TimeZoneInfo.Utc, AllowTruncated: true));

        Assert.False(result.Refused, string.Join('\n', result.Problems));
        Assert.Equal(Rows - 1, Assert.Single(result.Sessions).Samples.Count);
        Assert.Equal((Rows + 1, 1), (Assert.Single(result.Problems, problem => problem.Code == "truncated").Line, result.Ledger.Dropped));
    }

    [Theory]
    [InlineData(";")]
    [InlineData("\t")]
    [InlineData("|")]
    public void A_cut_row_of_one_cell_is_refused(string delimiter)
    {
        var text = new StringBuilder(string.Join(delimiter, "pack", "time [s]", "cell", "voltage [mV]"));
        for (int row = 0; row < Rows; row++)
        {
            text.Append(CultureInfo.InvariantCulture, $"\n{string.Join(delimiter, "blue", row / 4 * 10, (row % 4) + 1, 3805 + row - (row % 4 * 7))}");
        }

        string whole = text.ToString();
        Assert.False(Logs.ReadText(whole).Refused, string.Join('\n', Logs.ReadText(whole).Problems));
        for (int end = whole.LastIndexOf('\n') + 2; end < whole.Length; end++)
        {
            ReadResult result = Logs.ReadText(whole[..end]);

            Assert.True(result.Refused && result.Problems.Any(problem => problem.Code == "truncated" && problem.Line == Rows + 1), whole[(whole.LastIndexOf('\n') + 1)..end]);
        }
    }

    [Fact]
    public void A_line_of_words_at_the_end_needs_no_line_end()
    {
        ReadResult result = Logs.ReadText(Log(Columns["counter"]) + "\nEnd of log");

        Assert.False(result.Refused, string.Join('\n', result.Problems));
        Assert.Equal(1, result.Ledger.Footer);
    }

    private static string Log((string Header, Func<int, string> Field) last)
    {
        var text = new StringBuilder($"time [s];current [A];cell 1 [V];cell 2 [V];{last.Header}");
        for (int row = 0; row < Rows; row++)
        {
            text.Append(CultureInfo.InvariantCulture, $"\n{row};3.600;{3.8 + (row * 0.0025):0.0000};{3.8 + (row * 0.0025):0.0000};{last.Field(row)}");
        }

        return text.ToString();
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
