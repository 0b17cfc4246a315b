using System.Globalization;
using PackCare.Core.Reading;
using PackCare.Core.Samples;

namespace PackCare.Import.Tests;

/// <summary>Which column is which where headers count in their own way, and where others stand beside the pack's. The logs are invented.</summary>
public class ManyColumnsTests
{
    [Theory]
    [InlineData("cell C,cell B,cell A")]
    [InlineData("3,2,1")]
    [InlineData("sensor 3,sensor 2,sensor 1")]
    [InlineData("pin2,pin1,pin0")]
    [InlineData("Block 3,Block 2,Block 1")]
    [InlineData("Spannung C (V),Spannung B (V),Spannung A (V)")]
    [InlineData("Zelle III (V),Zelle II (V),Zelle I (V)")]
    [InlineData("cell three,cell two,cell one")]
    public void Cells_are_numbered_as_their_headers_count(string headers)
    {
        ReadResult result = Logs.ReadText(Log($"Time (s),Current (A),{headers}", cells => [cells[0], cells[1], cells[2]]));

        Assert.False(result.Refused, string.Join("\n", result.Problems));
        SampleSeries samples = result.Sessions[0].Samples;
        Assert.Equal([3.704m, 3.702m, 3.700m], Enumerable.Range(1, 3).Select(cell => samples[ChannelKey.Cell(cell)]!.ToDecimals().First()!.Value));
    }

    [Theory]
    [InlineData("Zeit;Strom;Spannung;;\n[s];[A];1;2;3")]
    [InlineData("Time s;Current A;Cell voltages V;;\n;;1;2;3")]
    [InlineData("Time;Current;Cell;Cell;Cell\n;;1;2;3\n(s);(A);(V);(V);(V)")]
    [InlineData("time;current;cell1;cell2;cell3\nseconds;amps;volts;volts;volts")]
    public void Headers_of_several_lines_are_put_together(string header)
    {
        ReadResult result = Logs.ReadText(Log(header, cells => cells).Replace(',', ';'));

        Assert.False(result.Refused, string.Join("\n", result.Problems));
        Assert.Equal(3, result.Sessions[0].Samples.CellCount);
    }

    [Theory]
    [InlineData("battery level", false)]
    [InlineData("Akkustand", false)]
    [InlineData("battery alarm", true)]
    [InlineData("pack flags", true)]
    public void A_state_of_the_battery_is_no_number_of_a_pack(string header, bool flag)
    {
        ReadResult result = Logs.ReadText(Log($"Time (s),Current (A),Cell 1 (V),Cell 2 (V),Cell 3 (V),{header}", cells => cells, row => flag ? row is > 40 and < 70 ? "1" : "0" : $"{15 + (row / 5)}"));

        Assert.Single(result.Sessions);
        Assert.Contains(result.Problems, problem => problem is { Code: "left-out", Column: 6 });
    }

    [Theory]
    [InlineData("3V3")]
    [InlineData("5V rail (V)")]
    [InlineData("logger battery (V)")]
    public void The_voltage_of_a_supply_is_no_cell(string header)
    {
        ReadResult result = Logs.ReadText(Log($"Time (s),Current (A),Cell 1 (V),Cell 2 (V),Cell 3 (V),{header}", cells => cells, row => row % 3 == 0 ? "3.31" : "3.32"));

        Assert.False(result.Refused, string.Join("\n", result.Problems));
        Assert.Equal(3, result.Sessions[0].Samples.CellCount);
    }

    [Theory]
    [InlineData("C mAh", "D mAh")]
    [InlineData("Ah+ (Ah)", "Ah- (Ah)")]
    public void A_counter_for_each_direction_is_known_by_its_sign(string charged, string discharged)
    {
        double factor = charged.Contains("mAh", StringComparison.Ordinal) ? 1000 : 1;
        ReadResult result = Logs.ReadText(Log($"Time (s),Current (A),Cell 1 (V),Cell 2 (V),Cell 3 (V),{charged},{discharged}", cells => cells, row => string.Create(CultureInfo.InvariantCulture, $"{Charge(row) * factor:F3},{0:F3}")));

        Assert.Equal((decimal)Math.Round(Charge(89), factor == 1 ? 3 : 6), result.Sessions[0].Samples[ChannelKey.Charge]!.ToDecimals().Last()!.Value, 3);
    }

    [Fact]
    public void A_counter_of_the_meters_whole_life_is_not_the_logs()
    {
        ReadResult result = Logs.ReadText(Log("Time (s),Current (A),Cell 1 (V),Cell 2 (V),Cell 3 (V),total Ah ever,Charge (Ah)", cells => cells, row => string.Create(CultureInfo.InvariantCulture, $"{88.21 + Charge(row):F3},{Charge(row):F3}")));

        Assert.Equal(0, result.Sessions[0].Samples[ChannelKey.Charge]!.ToDecimals().First());
    }

    [Theory]
    [InlineData("0.000")]
    [InlineData("")]
    public void A_pack_of_fewer_cells_has_no_more_in_a_file_of_two(string unconnected)
    {
        string one = Log("Pack,Time (s),Current (A),Cell 1 (V),Cell 2 (V),Cell 3 (V),Charge (Ah)", cells => cells, row => string.Create(CultureInfo.InvariantCulture, $"{Charge(row):F3}"), "Heron,");
        string two = Log("", cells => [cells[0], cells[1], unconnected], row => string.Create(CultureInfo.InvariantCulture, $"{Charge(row):F3}"), "Kite,")[1..];

        ReadResult result = Logs.ReadText(one + two);

        Assert.False(result.Refused, string.Join("\n", result.Problems));
        Assert.Equal([3, 2], result.Sessions.Select(session => session.Samples.CellCount));
        Assert.DoesNotContain(result.Problems, problem => problem.Code == "low-cell");
    }

    [Theory]
    [InlineData("total")]
    [InlineData("0")]
    public void Rows_of_cells_and_of_their_pack_are_told_apart_for_packs_of_unlike_cells(string pack)
    {
        var rows = new List<string>();
        foreach ((string label, int count) in new[] { ("Heron", 3), ("Kite", 2) })
        {
            for (int row = 0; row < 60; row++)
            {
                double[] volts = [.. Enumerable.Range(0, count).Select(cell => 3.7 + (0.002 * cell) + (0.001 * row))];
                rows.AddRange(volts.Select((value, cell) => string.Create(CultureInfo.InvariantCulture, $"{row * 10},{label},{cell + 1},{value:F3},1.00")));
                rows.Add(string.Create(CultureInfo.InvariantCulture, $"{row * 10},{label},{pack},{volts.Sum():F3},1.00"));
            }
        }

        ReadResult result = Logs.ReadText($"Time (s),Pack,Cell,Voltage (V),Current (A)\n{string.Join('\n', rows)}\n");

        Assert.False(result.Refused, string.Join("\n", result.Problems));
        Assert.Equal([3, 2], result.Sessions.Select(session => session.Samples.CellCount));
        Assert.All(result.Sessions, session => Assert.NotNull(session.Samples[ChannelKey.PackVoltage]));
    }

    [Fact]
    public void A_cell_that_was_drawn_far_down_is_one_of_them_without_a_header()
    {
        string[] rows = [.. Enumerable.Range(0, 120).Select(row => string.Create(CultureInfo.InvariantCulture, $"{row * 30},{(row < 5 ? 0 : 0.65):F2},{3.70 + (0.001 * row):F3},{3.702 + (0.001 * row):F3},{1.455 + (0.012 * row) - (0.00003 * row * row):F3},{3.701 + (0.001 * row):F3}"))];

        ReadResult result = Logs.ReadText(string.Join('\n', rows) + "\n");

        Assert.False(result.Refused, string.Join("\n", result.Problems));
        Assert.Equal(1.455m, result.Sessions[0].Samples[ChannelKey.Cell(3)]!.ToDecimals().First());
        Assert.Contains(result.Problems, problem => problem.Code == "low-cell");
    }

    [Theory]
    [InlineData("Pack ID", "1001", "1002")]
    [InlineData("battery", "1", "2")]
    public void Packs_that_are_numbered_are_told_apart_though_time_and_voltage_go_on(string header, string one, string two)
    {
        ReadResult result = Logs.ReadText(Log($"Time (s),Current (A),Cell 1 (V),Cell 2 (V),Cell 3 (V),{header}", cells => cells, row => row < 45 ? one : two));

        Assert.Equal(2, result.Sessions.Count);
    }

    [Fact]
    public void A_total_that_never_changes_is_not_taken_off_the_charge()
    {
        ReadResult result = Logs.ReadText(Log("Time (s),Current (A),Cell 1 (V),Cell 2 (V),Cell 3 (V),Charge (Ah),discharged total (Ah)", cells => cells, row => string.Create(CultureInfo.InvariantCulture, $"{Charge(row):F3},88.21")));

        Assert.Equal(0, result.Sessions[0].Samples[ChannelKey.Charge]!.ToDecimals().First());
    }

    [Fact]
    public void A_counter_in_every_second_row_counts_what_flowed_in_all()
    {
        ReadResult result = Logs.ReadText(Log("Time (s),Current (A),Cell 1 (V),Cell 2 (V),Cell 3 (V),Charge (Ah)", cells => cells, row => row % 2 == 1 ? "" : string.Create(CultureInfo.InvariantCulture, $"{Charge(row):F3}")));

        Assert.NotNull(result.Sessions[0].Samples[ChannelKey.Charge]);
    }

    [Fact]
    public void Names_of_cells_under_an_unknown_word_are_no_packs()
    {
        string[] names = ["cell-01", "cell-02", "pack"];
        string[] rows = [.. names.SelectMany((name, cell) => Enumerable.Range(0, 40).Select(row => string.Create(CultureInfo.InvariantCulture, $"{row * 10};{name};{(cell == 2 ? 8360 : 4180 + (cell * 5)) - row}")))];

        Assert.True(Logs.ReadText($"sec;slot;U [mV]\n{string.Join('\n', rows)}\n").Refused);
    }

    [Fact]
    public void A_list_of_one_cell_is_a_list_for_its_brackets()
    {
        ReadResult result = Logs.ReadText(Log("Time (s),Current (A),Cells (V)", cells => [$"[{cells[0]}]"]));

        Assert.Equal(1, result.Sessions[0].Samples.CellCount);
        Assert.Equal(3.700m, result.Sessions[0].Samples[ChannelKey.Cell(1)]!.ToDecimals().First());
    }

    private static double Charge(int row) => Math.Max(0, row - 5) * 2 * 10 / 3600.0;

    private static string Log(string header, Func<string[], string[]> cells, Func<int, string>? more = null, string before = "") => header + "\n" + string.Concat(Enumerable.Range(0, 90).Select(row =>
    {
        string[] volts = cells([.. Enumerable.Range(0, 3).Select(cell => (3.7 + (0.002 * cell) + (0.001 * row) + (row < 5 ? 0 : 0.02)).ToString("F3", CultureInfo.InvariantCulture))]);
        return string.Create(CultureInfo.InvariantCulture, $"{before}{row * 10},{(row < 5 ? 0 : 2):F2},{string.Join(',', volts)}{(more is null ? "" : "," + more(row))}\n");
    }));
}
