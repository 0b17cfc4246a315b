using System.Globalization;
using PackCare.Core.Reading;
using PackCare.Core.Samples;
using PackCare.Import.Guides;

namespace PackCare.Import.Tests;

/// <summary>One invented charge of three cells with a single fault in it, each of which was once read as if it were none.</summary>
public class SingleFaultTests
{
    private const string Header = "Elapsed [s],Current [A],Pack voltage [V],Cell 1 [V],Cell 2 [V],Cell 3 [V],Charge [Ah],Temperature [°C]";
    private const int Count = 80;

    // A row's line in the log is its place from 0 and two.
    private static readonly string[] Rows = [.. Enumerable.Range(0, Count).Select(Row)];

    public static TheoryData<string, string, int?, string> Faults => new()
    {
        { "two cells far apart that take each other's place", Log(Rows.Select((row, i) => i < 40 ? Field(row, 4, Lowered) : Field(Field(Field(row, 4, Lowered), 3, _ => Lowered(row.Split(',')[4])), 4, _ => row.Split(',')[3]))), 42, "cells-exchanged" },
        { "a charge that goes on in mAh", Log(Rows.Select((row, i) => i < 40 ? row : Field(row, 6, Thousandfold))), 42, "unit-unclear" },
        { "a time that goes on in ms", Log(Rows.Select((row, i) => i < 40 ? row : Field(row, 0, value => value + "000"))), 42, "ambiguous-time-unit" },
        { "a time that goes on in minutes", Log(Rows.Select((row, i) => i < 40 ? row : Field(row, 0, value => (double.Parse(value, CultureInfo.InvariantCulture) / 60).ToString("F4", CultureInfo.InvariantCulture)))), 42, "ambiguous-time-unit" },
        { "three currents of six nines", Log(Rows.Select((row, i) => i is > 40 and < 44 ? Field(row, 1, _ => "-999999") : row)), 43, "sentinel" },
        { "six rows twice, right at the beginning", Log([.. Rows[..9], .. Rows[1..]]), 11, "repeated-rows" },
        { "another delimiter in the last row", Log(At(79, row => row.Replace(',', ';'))), 81, "field-count" },
        { "another delimiter from the middle on", Log(Rows.Select((row, i) => i < 40 ? row : row.Replace(',', ';'))), 42, "field-count" },
        { "another delimiter from the second row on", Log(Rows.Select((row, i) => i < 1 ? row : row.Replace(',', ';'))), 3, "field-count" },
        { "a sheet's infinity in place of the last time", Log(At(79, row => Field(row, 0, _ => "Infinity"))), 81, "not-a-sample" },
        { "the headers of the current and the charge exchanged", Log(Rows, Header.Replace("Current [A]", "x", StringComparison.Ordinal).Replace("Charge [Ah]", "Current [A]", StringComparison.Ordinal).Replace("x", "Charge [Ah]", StringComparison.Ordinal)), 2, "headers-exchanged" },
        { "a line break in the first row", Log(At(0, row => row.Insert(row.IndexOf("3.7", StringComparison.Ordinal) + 6, "\n"))), 2, "unexpected-line" },
        { "half of the first row", Log(At(0, row => row[..12])), 2, "unexpected-line" },
        { "a quote that opens the first row", Log(At(0, row => "\"" + row)), 2, "unexpected-line" },
        { "a sheet's error in place of a time", Log(At(39, row => "#DIV/0!" + row[row.IndexOf(',', StringComparison.Ordinal)..])), 41, "not-a-sample" },
        { "a sheet's error in place of the first time", Log(At(0, row => "#REF!" + row[row.IndexOf(',', StringComparison.Ordinal)..])), 2, "unexpected-line" },
        { "an old end-of-file mark in place of a digit", Log(At(29, row => Field(row, 3, value => value[..^1] + "\u001a"))), 31, "not-a-number" },
        { "a form feed in place of a digit", Log(At(29, row => Field(row, 3, value => value[..^1] + "\f"))), 31, "not-a-number" },
        { "a last time of all ones", Log(At(79, row => Field(row, 0, _ => "4294967295"))), 81, "impossible-value" },
        { "twenty rows twice", Log([.. Rows[..21], .. Rows[1..21], .. Rows[21..]]), 23, "repeated-rows" },
        { "a pack voltage that no such pack has, twice", Log(Rows.Select((row, i) => i is 29 or 30 ? Field(row, 2, _ => "655.350") : row)), 31, "impossible-value" },
        { "a pack voltage with a group in place of a decimal", Log(At(39, row => Field(row, 2, value => value.Replace(".", "", StringComparison.Ordinal)))), 41, "impossible-value" },
        { "a counter full of ones in every row", Log(Rows.Select(row => Field(row, 6, _ => "65535"))), 2, "impossible-value" },
        { "a counter full of ones in the first row", Log(At(0, row => Field(row, 6, _ => "65.535"))), 2, "sentinel" },
        { "a current of nines", Log(At(29, row => Field(row, 1, _ => "999.9"))), 31, "sentinel" },
        { "a first row without its first value", Log(At(0, row => row[(row.IndexOf(',', StringComparison.Ordinal) + 1)..] + ",")), 2, "columns-shifted" },
        { "cells of a tenth of a volt", Log(Rows.Select(row => Enumerable.Range(2, 4).Aggregate(row, (all, place) => Field(all, place, Tenth)))), 2, "voltage-range" },
        { "the headers of a current and a cell exchanged", Log(Rows.Select(row => Field(Field(row, 1, Tenth), 6, Tenth)), Header.Replace("Current [A]", "x", StringComparison.Ordinal).Replace("Cell 1 [V]", "Current [A]", StringComparison.Ordinal).Replace(",x,", ",Cell 1,", StringComparison.Ordinal)), 2, "headers-exchanged" },
        { "rows sorted as text", Log(Rows.Order(StringComparer.Ordinal)), null, "time-backwards" },
    };

    [Theory]
    [MemberData(nameof(Faults))]
    public void A_fault_is_refused_where_it_stands(string fault, string log, int? line, string code)
    {
        ReadResult result = Logs.ReadText(log);

        Assert.True(result.Refused, fault);
        InputProblem refusal = result.Problems.First(problem => problem.Level == ProblemLevel.Refusal);
        Assert.Equal((fault, code), (fault, refusal.Code));
        Assert.Equal((fault, line), (fault, line is null ? null : refusal.Line));
        Assert.Empty(result.Sessions);
    }

    [Fact]
    public void The_log_without_a_fault_is_read()
    {
        ReadResult result = Logs.ReadText(Log(Rows));

        Assert.Empty(result.Problems);
        Assert.Equal(Count, Assert.Single(result.Sessions).Samples.Count);
    }

    [Theory]
    [InlineData("-----------------------------")]
    [InlineData("---,---,---,---,---,---,---,---")]
    [InlineData("[data]")]
    [InlineData("START")]
    public void A_ruler_between_header_and_samples_is_none_of_them(string ruler)
    {
        ReadResult result = Logs.ReadText(Log([ruler, .. Rows]));

        Assert.False(result.Refused, string.Join("\n", result.Problems));
        Assert.Equal(Count, Assert.Single(result.Sessions).Samples.Count);
        Assert.Equal(3, result.Sessions[0].Samples.CellCount);
    }

    [Theory]
    [InlineData("0,0.00,11.29")]
    [InlineData("\"0,0.00,11.291,3.768,3.764,3.759,0.000,22.0")]
    public void A_damaged_first_row_is_refused_without_a_header_too(string first)
    {
        ReadResult result = Logs.ReadText(string.Join('\n', [first, .. Rows[1..]]) + "\n");

        Assert.True(result.Refused);
        Assert.Equal(1, result.Problems.First(problem => problem.Level == ProblemLevel.Refusal).Line);
    }

    [Fact]
    public void A_cell_that_is_dead_throughout_is_read_and_told()
    {
        ReadResult result = Logs.ReadText(Log(Rows.Select(row => Field(Field(row, 4, _ => "0.000"), 2, _ => ""))));

        Assert.Equal(3, Assert.Single(result.Sessions).Samples.CellCount);
        Assert.Contains(result.Problems, problem => problem is { Code: "low-cell", Column: 5 });
    }

    [Fact]
    public void A_temperature_that_changes_its_unit_is_told()
    {
        ReadResult result = Logs.ReadText(Log(Rows.Select((row, i) => i < 40 ? row : Field(row, 7, value => ((double.Parse(value, CultureInfo.InvariantCulture) * 1.8) + 32).ToString("F1", CultureInfo.InvariantCulture)))));

        Assert.Contains(result.Problems, problem => problem is { Code: "temperature-jumps", Line: 42 });
    }

    [Fact]
    public void A_list_that_lost_a_cell_is_refused_there()
    {
        string[] rows = [.. Rows.Select((row, i) => { string[] f = row.Split(','); return string.Join(';', f[0], f[1], i == 50 ? f[3] : $"{f[3]}|{f[4]}"); })];

        ReadResult result = Logs.ReadText("Time [s];Current [A];Cells [V]\n" + string.Join('\n', rows) + "\n");

        Assert.Equal(("not-a-number", 52), (result.Problems[0].Code, result.Problems[0].Line));
    }

    [Fact]
    public void A_row_marked_as_a_comment_is_left_out_and_told()
    {
        ReadResult result = Logs.ReadText(Log(At(39, row => "#" + row)));

        Assert.Equal(Count - 1, Assert.Single(result.Sessions).Samples.Count);
        Assert.Contains(result.Problems, problem => problem is { Code: "row-in-comment", Line: 41 });
    }

    [Theory]
    [InlineData(",")]
    [InlineData(";")]
    public void A_row_of_quoted_values_whose_first_quote_became_a_comment_mark_is_told(string delimiter)
    {
        string[] quoted = [.. Rows.Select(row => "\"" + row.Replace(",", $"\"{delimiter}\"", StringComparison.Ordinal) + "\"")];
        quoted[39] = "#" + quoted[39][1..];
        string header = string.Join(delimiter, Log(Rows).Split('\n')[0].Split(','));

        ReadResult result = Logs.ReadText(header + "\n" + string.Join('\n', quoted) + "\n");

        Assert.Contains(result.Problems, problem => problem is { Code: "row-in-comment", Line: 41 });
    }

    [Fact]
    public void A_last_row_long_after_the_others_is_told()
    {
        ReadResult result = Logs.ReadText(Log(At(79, row => Field(row, 0, _ => "10395"))));

        Assert.Contains(result.Problems, problem => problem is { Code: "late-row", Line: 81 });
    }

    [Theory]
    [InlineData(0, false)]
    [InlineData(79, false)]
    [InlineData(79, true)]
    public void A_current_at_an_end_that_no_cell_answers_is_told(int place, bool blank)
    {
        ReadResult result = Logs.ReadText(Log(At(place, row => Enumerable.Range(2, 4).Aggregate(Field(row, 1, _ => "92.00"), (all, cell) => Field(all, cell, value => blank ? "" : value)))));

        Assert.Contains(result.Problems, problem => problem.Code == "spike" && problem.Line == place + 2 && problem.Column == 2);
    }

    // With a step at the start, by which the resistance is known, and without; under a load that varies.
    [Theory]
    [InlineData(0, 40, 0)]
    [InlineData(5, 40, 0)]
    [InlineData(0, 30, 1)]
    [InlineData(5, 61, 2)]
    public void A_sign_that_is_lost_from_a_row_on_is_refused_there(int rest, int lost, double varies)
    {
        (double amps, double charged) = (0, 0);
        string[] rows = [.. Enumerable.Range(0, 80).Select(row =>
        {
            charged -= amps / 360;
            amps = row < rest ? 0 : 4 + (varies * Math.Sin(row / 3.0));
            double volts = 4.1 + (0.35 * charged / 2) - (0.008 * amps);
            return string.Create(CultureInfo.InvariantCulture, $"{row * 10},{(row < lost ? -amps : amps):F2},{volts:F3},{volts - 0.004:F3}");
        })];

        ReadResult result = Logs.ReadText("time s,current A,cell 1 V,cell 2 V\n" + string.Join('\n', rows) + "\n");

        Assert.Equal(("direction-unclear", lost + 2), (result.Problems.Single(problem => problem.Level == ProblemLevel.Refusal).Code, result.Problems[0].Line));
    }

    [Fact]
    public void A_pack_voltage_that_goes_to_zero_for_good_is_told()
    {
        ReadResult result = Logs.ReadText(Log(Rows.Select((row, i) => i < 74 ? row : Field(row, 2, _ => "0.000"))));

        Assert.Contains(result.Problems, problem => problem is { Code: "pack-not-sum", Line: 76 });
    }

    [Fact]
    public void A_session_that_is_logged_twice_is_read_twice_and_told()
    {
        ReadResult result = Logs.ReadText(Log([.. Rows, .. Rows]));

        Assert.Equal([Count, Count], result.Sessions.Select(session => session.Samples.Count));
        Assert.Contains(result.Problems, problem => problem is { Code: "repeated-rows", Level: ProblemLevel.Notice, Line: Count + 2 });
    }

    [Fact]
    public void Two_cells_of_the_same_readings_are_told()
    {
        ReadResult result = Logs.ReadText(Log(Rows.Select(row => Field(Field(row, 5, _ => row.Split(',')[4]), 2, _ => "")).ToArray()));

        Assert.Contains(result.Problems, problem => problem is { Code: "cells-alike", Column: 6 });
    }

    [Theory]
    [InlineData("04/03/26")]
    [InlineData("3-4-26")]
    [InlineData("10/11/12")]
    public void A_date_with_a_year_of_two_digits_is_refused_wherever_it_stands(string date)
    {
        ReadResult beside = Logs.ReadText(Log(Rows.Select((row, i) => $"{date},10:{i * 5 / 60:00}:{i * 5 % 60:00}{row[row.IndexOf(',', StringComparison.Ordinal)..]}"), "Date,Time" + Header[Header.IndexOf(',', StringComparison.Ordinal)..]));
        ReadResult within = Logs.ReadText(Log(Rows.Select((row, i) => $"{date} 10:{i * 5 / 60:00} AM{row[row.IndexOf(',', StringComparison.Ordinal)..]}"), "when" + Header[Header.IndexOf(',', StringComparison.Ordinal)..]));

        Assert.Equal("time-form", Assert.Single(beside.Problems).Code);
        Assert.Equal("time-form", Assert.Single(within.Problems).Code);
        Assert.Contains($"\"{date} 10:00 AM\"", within.Problems[0].Found, StringComparison.Ordinal);
    }

    [Fact]
    public void An_ambiguous_date_is_refused_with_both_its_meanings()
    {
        ReadResult result = Logs.ReadText(Log(Rows.Select((row, i) => $"03/04/2026 10:{i * 5 / 60:00}:{i * 5 % 60:00}{row[row.IndexOf(',', StringComparison.Ordinal)..]}"), "when" + Header[Header.IndexOf(',', StringComparison.Ordinal)..]));

        Assert.Contains("3 April or 4 March 2026", Assert.Single(result.Problems).Found, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(1, "")]
    [InlineData(Count * 2 - 1, "Heron")]
    public void A_damaged_label_of_packs_in_turn_is_refused_at_the_edges_too(int place, string label)
    {
        string[] rows = [.. Rows.SelectMany(row => new[] { $"Heron,{row}", $"Kite,{Enumerable.Range(3, 3).Aggregate(row, (all, place) => Field(all, place, Raised))}" })];
        rows[place] = label + rows[place][rows[place].IndexOf(',', StringComparison.Ordinal)..];

        ReadResult result = Logs.ReadText(Log(rows.Select(row => Field(row, 3, _ => "")), "Pack," + Header));

        InputProblem refusal = result.Problems.First(problem => problem.Level == ProblemLevel.Refusal);
        Assert.Equal(("pack-label", place + 2), (refusal.Code, refusal.Line));
    }

    [Fact]
    public void Cells_that_are_numbered_twice_are_two_packs()
    {
        ReadResult result = Logs.ReadText(Log(Rows.Select(row => { string[] f = row.Split(','); return string.Join(',', f[0], f[1], f[3], f[4], f[5], Raised(f[3]), Raised(f[4]), Raised(f[5])); }), "time,i,a1,a2,a3,b1,b2,b3"));

        Assert.Equal("ambiguous-cells", Assert.Single(result.Problems).Code);
        Assert.Contains("\"a1\", \"b1\"", result.Problems[0].Found, StringComparison.Ordinal);
    }

    [Fact]
    public void Six_lettered_cells_are_six_cells()
    {
        ReadResult result = Logs.ReadText(Log(Rows.Select(row => { string[] f = row.Split(','); return string.Join(',', f[0], f[1], f[3], f[4], f[5], Raised(f[3]), Raised(f[4]), Raised(f[5])); }), "time,load,cell A,cell B,cell C,cell D,cell E,cell F"));

        Assert.False(result.Refused, string.Join("\n", result.Problems));
        Assert.Equal(6, result.Sessions[0].Samples.CellCount);
    }

    [Theory]
    [InlineData("Lap,Sector 1 s,Sector 2 s,Sector 3 s,Total s")]
    [InlineData("Day,Gauge 1 [m],Gauge 2 [m],Gauge 3 [m],Sum [m]")]
    [InlineData("n,load 1 [kg],load 2 [kg],load 3 [kg],total [kg]")]
    public void What_is_measured_in_another_unit_is_no_pack(string header)
    {
        ReadResult result = Logs.ReadText(Log(Rows.Select(row => { string[] f = row.Split(','); return string.Join(',', f[0], f[3], f[4], f[5], f[2]); }), header));

        Assert.True(result.Refused);
    }

    [Fact]
    public void A_steady_column_is_no_current_of_cells_that_step()
    {
        string[] rows = [.. Rows.Select((row, i) => { string[] f = row.Split(','); return string.Join(';', f[0], (39.8 + (0.1 * (i % 2))).ToString("F1", CultureInfo.InvariantCulture), f[3], f[4], f[5]); })];

        ReadResult result = Logs.ReadText(string.Join('\n', rows) + "\n");

        Assert.True(result.Refused || result.Sessions[0].Samples[ChannelKey.Current] is null);
    }

    [Fact]
    public void A_guide_for_a_refused_log_leaves_open_what_is_open()
    {
        string log = "t;I;U1;U2\n" + string.Concat(Enumerable.Range(0, 60).Select(i => string.Create(CultureInfo.InvariantCulture, $"{i * 10};{(i < 3 ? "0" : i < 50 ? "2.200" : $"{970 - i}")};{3.762 + (0.002 * i) + (i < 3 ? 0 : 0.03):F3};{3.765 + (0.002 * i) + (i < 3 ? 0 : 0.03):F3}\n")));
        ReadResult result = Logs.ReadText(log);
        InputProblem refusal = Assert.Single(result.Problems);
        Assert.Equal("ambiguous-decimal", refusal.Code);
        Assert.Contains("current 0.0022 A", refusal.Found, StringComparison.Ordinal);
        Assert.Contains("current 2.2 A", refusal.Found, StringComparison.Ordinal);

        ReadingGuide guide = ReadingGuide.Of(result.Reading!, "odd.csv", refusal);

        Assert.Null(guide.DecimalMark);
        Assert.Equal(';', guide.Delimiter);
        Assert.All(guide.Columns, column => Assert.NotEqual(ColumnMeaning.Ignored, column.Meaning));
    }

    private static string Log(IEnumerable<string> rows, string header = Header) => header + "\n" + string.Join('\n', rows) + "\n";

    private static string[] At(int place, Func<string, string> change) => [.. Rows.Select((row, i) => i == place ? change(row) : row)];

    private static string Field(string row, int place, Func<string, string> change)
    {
        string[] fields = row.Split(',');
        fields[place] = change(fields[place]);
        return string.Join(',', fields);
    }

    private static string Lowered(string volts) => (double.Parse(volts, CultureInfo.InvariantCulture) - 0.15).ToString("F3", CultureInfo.InvariantCulture);

    private static string Thousandfold(string value) => (double.Parse(value, CultureInfo.InvariantCulture) * 1000).ToString("F0", CultureInfo.InvariantCulture);

    private static string Tenth(string volts) => (double.Parse(volts, CultureInfo.InvariantCulture) / 10).ToString("F3", CultureInfo.InvariantCulture);

    private static string Raised(string volts) => (double.Parse(volts, CultureInfo.InvariantCulture) + 0.05).ToString("F3", CultureInfo.InvariantCulture);

    private static string Row(int i)
    {
        double amps = i is < 6 or >= 74 ? 0 : 20;
        double charge = Math.Clamp(i - 6, 0, 68) * 20 * 5 / 3600.0;
        double[] cells = [.. Enumerable.Range(0, 3).Select(c => Math.Round(3.768 - (0.004 * c) + (0.1 * charge) + (amps * (0.006 + (0.0002 * c))) + (0.0004 * ((i * 7) % 3)), 3))];
        return string.Create(CultureInfo.InvariantCulture, $"{i * 5},{amps:F2},{cells.Sum():F3},{cells[0]:F3},{cells[1]:F3},{cells[2]:F3},{charge:F3},{22 + (0.05 * i):F1}");
    }
}
