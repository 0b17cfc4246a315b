using PackCare.Core.Reading;
using PackCare.Core.Samples;
using static PackCare.Import.Tests.TestSession;

namespace PackCare.Import.Tests;

/// <summary>Logs that lost something on their way, and whose rows still look like rows.</summary>
public class LostReadingsTests
{
    private const string Header = "time [s],current [A],cell 1 [V],cell 2 [V],cell 3 [V]";

    [Fact]
    public void Cells_that_all_stand_still_under_a_current_are_told()
    {
        List<Row> rows = Charge();
        string log = Log(Header, rows, (row, i) => $"{row.T},{row.I},{rows[Math.Min(i, 20)].V}");

        Assert.Contains(Logs.ReadText(log).Problems, problem => problem is { Code: "cell-stands-still", Line: 22 });
    }

    [Fact]
    public void A_cell_in_whole_volts_beside_others_in_millivolts_is_told()
    {
        string log = Log(Header, Charge(), (row, _) => FormattableString.Invariant($"{row.T},{row.I},{row.Cells[0]:F3},{row.Cells[1]:F0},{row.Cells[2]:F3}"));

        Assert.Contains(Logs.ReadText(log).Problems, problem => problem is { Code: "odd-digits", Column: 4 });
    }

    [Fact]
    public void A_cell_that_was_turned_round_in_time_is_told_by_the_pack_voltage()
    {
        List<Row> rows = Charge();
        string log = Log($"{Header},pack [V]", rows, (row, i) => FormattableString.Invariant($"{row.T},{row.I},{row.Cells[0]:F3},{rows[^(i + 1)].Cells[1]:F3},{row.Cells[2]:F3},{row.Pack}"));

        Assert.Contains(Logs.ReadText(log).Problems, problem => problem is { Code: "pack-not-sum", Column: 6 });
    }

    [Theory]
    [InlineData(0.7)]
    [InlineData(1.4)]
    public void A_counter_that_is_off_throughout_is_told(double factor)
    {
        string log = Log($"{Header},charge [Ah]", Charge(), (row, _) => FormattableString.Invariant($"{row.T},{row.I},{row.V},{row.Charge * factor:F4}"));

        Assert.Contains(Logs.ReadText(log).Problems, problem => problem.Code == "charge-disagrees");
    }

    [Fact]
    public void A_time_under_the_header_of_the_charge_is_refused()
    {
        string log = Log("charge,current [A],cell 1 [V],cell 2 [V],cell 3 [V],time", Of(60, 40, 3.7, i => i < 12 ? 0 : 4), (row, _) => $"{row.T},{row.I},{row.V},{row.Q}");

        Assert.Equal(("headers-exchanged", 1), (Logs.ReadText(log).Problems[0].Code, Logs.ReadText(log).Problems[0].Column));
    }

    [Fact]
    public void A_clock_that_begins_anew_under_way_is_told()
    {
        string log = Log(Header, Of(80, 10, 3.8, _ => 2), (row, i) => FormattableString.Invariant($"{(i < 40 ? row.Seconds : row.Seconds - 400)},{row.I},{row.V}"));

        ReadResult result = Logs.ReadText(log);

        Assert.Equal(2, result.Sessions.Count);
        Assert.Contains(result.Problems, problem => problem is { Code: "clock-jumps", Line: 42 });
    }

    [Fact]
    public void Times_that_are_all_the_same_are_refused()
    {
        string log = Log("time [s],cell 1 [V],cell 2 [V],cell 3 [V]", Charge(), (row, _) => $"0,{row.V}");

        Assert.Equal("time-form", Logs.ReadText(log).Problems[0].Code);
    }

    [Fact]
    public void Clock_digits_under_seconds_are_refused_where_no_counter_takes_them_for_seconds()
    {
        string log = Log(Header, Charge(60, 20), (row, _) => FormattableString.Invariant($"{(int)row.Seconds / 60 * 100 + ((int)row.Seconds % 60):000000},{row.I},{row.V}"));

        Assert.Equal("ambiguous-time", Logs.ReadText(log).Problems[0].Code);
    }

    [Theory]
    [InlineData("01 04 2026")]
    [InlineData("Sa 01.04.2026")]
    [InlineData("01.04")]
    public void A_date_in_a_form_that_is_not_known_is_not_replaced_by_that_of_the_file(string date)
    {
        string log = Log("date,time,cell 1 [V],cell 2 [V],cell 3 [V]", Charge(), (row, _) => FormattableString.Invariant($"{date},{new DateTime(2026, 4, 1, 9, 0, 0).AddSeconds(row.Seconds):HH:mm:ss},{row.V}"));

        Assert.Equal("time-form", Logs.ReadText(log).Problems[0].Code);
    }

    [Fact]
    public void A_current_without_its_decimal_mark_makes_a_charge_that_is_told()
    {
        string log = Log(Header, Charge(), (row, _) => FormattableString.Invariant($"{row.T},{row.Amps * 100:000},{row.V}"));

        Assert.Contains(Logs.ReadText(log).Problems, problem => problem.Code is "large-charge" or "unit-unclear");
    }

    [Fact]
    public void Something_behind_the_numbers_of_the_last_cell_refuses_a_log_without_a_header()
    {
        string log = Log("", Charge(), (row, _) => $"{row.T};{row.I};{row.V.Replace(',', ';')}<br>");

        Assert.Equal(("not-a-number", 5), (Logs.ReadText(log).Problems[0].Code, Logs.ReadText(log).Problems[0].Column));
    }

    [Theory]
    [InlineData("mV2,mV3,mV4", "cell-numbers")]
    [InlineData("mV1,mV2,mV3", null)]
    public void Millivolts_with_a_number_are_the_cell_of_that_number(string headers, string? code)
    {
        string log = Log($"time [s],mA,{headers}", Charge(), (row, _) => FormattableString.Invariant($"{row.T},{row.Amps * 1000:F0},{row.Cells[0] * 1000:F0},{row.Cells[1] * 1000:F0},{row.Cells[2] * 1000:F0}"));

        Assert.Equal(code, Logs.ReadText(log).Problems.Select(problem => problem.Code).SingleOrDefault());
    }

    [Fact]
    public void A_row_of_the_largest_values_below_the_table_is_refused()
    {
        List<Row> rows = Discharge();
        Row largest = rows[0] with { Seconds = rows[^1].Seconds, Amps = 0, Cells = [.. Enumerable.Range(0, 3).Select(c => rows.Max(row => row.Cells[c]))], Charge = 0 };
        string log = Log($"{Header},charge [Ah]", rows.Append(largest), (row, _) => $"{row.T},{row.I},{row.V},{row.Q}");

        Assert.Equal(62, Assert.Single(Logs.ReadText(log).Problems, problem => problem.Code == "not-a-sample").Line);
    }

    [Theory]
    [InlineData("0,-1.90,inf,3.9,3.9", 2)]
    [InlineData("0,-1.90,3850,3.850,3.846", 2)]
    [InlineData("-4870,-1.90,3.850,3.850,3.846", 2)]
    public void A_first_row_that_is_damaged_is_the_one_that_is_named(string row, int line)
    {
        string log = Header + "\n" + row + "\n" + Log("", Discharge(30, 40, 1.9).Skip(1), (one, _) => $"{one.T},{one.I},{one.V}");

        ReadResult result = Logs.ReadText(log);

        Assert.Equal(line, result.Problems[0].Line);
        Assert.Empty(result.Sessions);
    }

    [Fact]
    public void A_gap_right_after_the_first_row_begins_another_session()
    {
        string log = Log(Header, Discharge(40, 10).Select((row, i) => row with { Seconds = row.Seconds + (i == 0 ? 0 : 32_400) }), (row, _) => $"{row.T},{row.I},{row.V}");

        Assert.Equal([1, 39], Logs.ReadText(log).Sessions.Select(session => session.Samples.Count));
    }

    [Fact]
    public void A_reading_that_is_missing_in_the_first_row_is_a_gap()
    {
        string log = Log($"{Header},cell 4 [V]", Discharge(12, 120, 0.5), (row, i) => FormattableString.Invariant($"{row.T},{row.I},{row.Cells[0]:F3},{row.Cells[1]:F3},{(i == 0 ? "NaN" : row.Cells[2].ToString("F3"))},{row.Cells[2] - 0.004:F3}"));

        Assert.True(double.IsNaN(Assert.Single(Logs.ReadText(log).Sessions).Samples.Values(ChannelKey.Cell(3))![0]));
    }

    [Fact]
    public void A_remark_with_figures_amidst_the_table_is_one()
    {
        string log = Log("time [s],current [A],cell 1 [V],cell 2 [V]", Discharge(20), (row, i) => FormattableString.Invariant($"{row.T},{row.I},{row.Cells[0]:F3},{row.Cells[1]:F3}{(i == 7 ? "\n# fan on, 1, 2, 3" : "")}"));

        ReadResult result = Logs.ReadText(log);

        Assert.Equal(20, Assert.Single(result.Sessions).Samples.Count);
        Assert.Contains(result.Problems, problem => problem is { Code: "row-in-comment", Line: 10 });
    }

    [Fact]
    public void A_last_row_whose_time_was_not_read_is_refused_and_no_footer()
    {
        string log = Log(Header, Discharge(20), (row, i) => $"{(i == 19 ? "OL" : row.T)},{row.I},{row.V}");

        Assert.Equal(("not-a-sample", 21), (Logs.ReadText(log).Problems[0].Code, Logs.ReadText(log).Problems[0].Line));
    }

    [Fact]
    public void Whether_a_cell_is_being_balanced_is_not_its_voltage()
    {
        string log = Log($"{Header},cell 1 balance,cell 2 balance,cell 3 balance", Charge(), (row, i) => $"{row.T},{row.I},{row.V},{i % 2},0,1");

        Assert.Equal(3, Assert.Single(Logs.ReadText(log).Sessions).Samples.CellCount);
    }

    [Fact]
    public void Packs_at_rates_of_their_own_are_no_damage()
    {
        List<Row> one = Discharge(60, 5);
        List<Row> two = Charge(30, 30);
        IEnumerable<(string Pack, Row Row)> rows = one.Select(row => ("one", row)).Concat(two.Select(row => ("two", row))).OrderBy(pair => pair.Item2.Seconds).ThenBy(pair => pair.Item1);
        string log = "time [s],pack,current [A],cell 1 [V],cell 2 [V],cell 3 [V]\n" + string.Concat(rows.Select(pair => $"{pair.Row.T},{pair.Pack},{pair.Row.I},{pair.Row.V}\n"));

        Assert.Equal(2, Logs.ReadText(log).Sessions.Count);
    }

    [Fact]
    public void The_mean_of_the_cells_under_a_word_that_is_not_known_is_left_out()
    {
        string log = Log($"{Header},xyz [V]", Charge(), (row, _) => FormattableString.Invariant($"{row.T},{row.I},{row.V},{row.Cells.Average():F3}"));

        Assert.Equal(3, Assert.Single(Logs.ReadText(log).Sessions).Samples.CellCount);
    }

    [Fact]
    public void A_meter_that_sees_twenty_millivolts_and_writes_one_is_taken_for_what_it_sees()
    {
        // In mA the steps would move the cells as far as those of a cell of a third of an ohm; that they stay within a digit says nothing.
        string log = Log("time [s],current,mode,cell 1,cell 2", Of(40, 30, 3.6, i => i < 5 ? 0 : 65.31), (row, i) => FormattableString.Invariant(
            $"{row.T},{row.I},{(i < 5 ? "rest" : "charge")},{Math.Round((3.58 + (0.0018 * row.Amps * (i / 40.0))) * 50) * 20:F0},{Math.Round((3.60 + (0.0018 * row.Amps * (i / 40.0))) * 50) * 20:F0}"));

        ReadResult result = Logs.ReadText(log);

        Assert.True(result.Refused || result.Sessions[0].Samples.Values(ChannelKey.Current)!.Max() > 60);
    }

    [Fact]
    public void A_clock_of_whole_minutes_was_not_set_at_each_of_them()
    {
        string log = Log("timestamp,current [A],cell 1 [V],cell 2 [V],cell 3 [V]", Discharge(120, 10), (row, _) => FormattableString.Invariant($"{new DateTime(2026, 3, 4, 9, 0, 0).AddSeconds(row.Seconds):yyyy-MM-dd HH:mm},{row.I},{row.V}"));

        Assert.DoesNotContain(Logs.ReadText(log).Problems, problem => problem.Code == "clock-jumps");
    }

    [Fact]
    public void Sessions_that_are_numbered_under_a_running_clock_are_no_clock_that_was_set()
    {
        string log = Log("time [s],session,current [A],cell 1 [V],cell 2 [V],cell 3 [V]", Of(80, 10, 4.0, _ => -2), (row, i) => $"{row.T},{(i < 40 ? 1 : 2)},{row.I},{row.V}");

        Assert.DoesNotContain(Logs.ReadText(log).Problems, problem => problem.Code == "clock-jumps");
    }

    [Fact]
    public void Clocks_that_were_reset_again_and_again_are_told_ten_times_at_most()
    {
        string log = Log(Header, Of(400, 10, 4.0, _ => -0.2), (row, i) => FormattableString.Invariant($"{i % 10 * 10},{row.I},{row.V}"));

        ReadResult result = Logs.ReadText(log);

        Assert.Equal(40, result.Sessions.Count);
        Assert.Equal(10, result.Problems.Count(problem => problem.Code == "clock-jumps"));
    }

    [Fact]
    public void A_pack_voltage_without_its_first_reading_is_held_against_the_cells_as_well()
    {
        List<Row> rows = Charge();
        string log = Log($"{Header},pack [V]", rows, (row, i) => FormattableString.Invariant($"{row.T},{row.I},{row.Cells[0]:F3},{rows[^(i + 1)].Cells[1]:F3},{row.Cells[2]:F3},{(i == 0 ? "" : row.Pack)}"));

        Assert.Contains(Logs.ReadText(log).Problems, problem => problem is { Code: "pack-not-sum", Column: 6 });
    }

    [Fact]
    public void A_temperature_that_rises_evenly_beside_a_clock_is_no_elapsed_time()
    {
        List<Row> rows = Charge(40, 1, 6);
        string log = Log("date,clk,I,c1,c2,c3,T,Q", rows, (row, i) => FormattableString.Invariant($"2026-02-21,{new DateTime(2026, 2, 21, 8, 7, 34).AddSeconds(row.Seconds):HH:mm:ss},{row.I},{row.V},{31.49 + (0.018 * i):F2},{row.Q}"));

        SampleSeries samples = Assert.Single(Logs.ReadText(log).Sessions).Samples;

        Assert.Equal(rows.Select(row => row.Seconds), samples.TimeSeconds());
    }
}
