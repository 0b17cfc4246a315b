using PackCare.Core.Reading;

namespace PackCare.Import.Tests;

/// <summary>Names of columns that are easily taken for something else. All data is invented.</summary>
public class NamesOfColumnsTests
{
    private const int Rows = 60;

    [Theory]
    [InlineData("Řádek", "Doba/s", "Článek 1/V", "Proud/A")]
    [InlineData("LINHA", "Duração s", "Célula 1 V", "Corrente A")]
    [InlineData("Rij", "Looptijd/s", "Cel1/V", "Stroom/A")]
    [InlineData("Wiersz", "Czas [s]", "Ogniwo 1 [V]", "Prąd [A]")]
    [InlineData("i", "t_s", "c1_V", "Cur_A")]
    [InlineData("i", "time [s]", "cell 1 [V]", "I [A]")]
    [InlineData("i", "t", "cv1", "ibat")]
    public void A_row_number_is_neither_a_time_nor_a_current(string number, string time, string cell, string current)
    {
        ReadResult result = Logs.ReadText(Log([number, time, cell, current], row => [$"{row + 1}", $"{row * 20}", Volts(row, 0), Amps(row)]));

        Assert.False(result.Refused, string.Join('\n', result.Problems));
        Assert.Equal(ColumnMeaning.Ignored, result.Reading!.Columns[0].Meaning);
        Assert.Equal(ColumnMeaning.ElapsedTime, result.Reading.Columns[1].Meaning);
        Assert.Equal(ColumnMeaning.Current, result.Reading.Columns[3].Meaning);
        Assert.Equal((Rows - 1) * 20m, result.Sessions[0].Samples.Channels.Single(channel => Logs.Name(channel.Key) == "time").ToDecimals().Last());
    }

    [Theory]
    [InlineData("Řádek")]
    [InlineData("Fila")]
    [InlineData("Riga")]
    [InlineData("row")]
    public void Rows_that_are_only_numbered_have_no_time(string number) =>
        Assert.Contains(Logs.ReadText(Log([number, "cell 1 [V]", "cell 2 [V]", "current [A]"], row => [$"{row + 1}", Volts(row, 0), Volts(row, 1), Amps(row)])).Problems, problem => problem is { Level: ProblemLevel.Refusal, Code: "no-time" });

    [Theory]
    [InlineData("Lüfter")]
    [InlineData("Ventilátor")]
    [InlineData("Zasilanie")]
    [InlineData("Napájení")]
    public void A_fan_or_a_supply_is_no_current(string header)
    {
        ReadResult result = Logs.ReadText(Log(["time [s]", "cell 1 [V]", "cell 2 [V]", header], row => [$"{row * 20}", Volts(row, 0), Volts(row, 1), FormattableString.Invariant($"{24 + (row * 0.01):0.00}")]));

        Assert.False(result.Refused, string.Join('\n', result.Problems));
        Assert.DoesNotContain(result.Reading!.Columns, column => column.Meaning == ColumnMeaning.Current);
    }

    [Theory]
    [InlineData("Höchste Zelle")]
    [InlineData("Niedrigste Zelle")]
    [InlineData("Nejvyšší článek")]
    public void The_highest_or_lowest_cell_is_no_further_cell(string header)
    {
        ReadResult result = Logs.ReadText(Log(["Zeit [s]", "Zelle 1 [V]", "Zelle 2 [V]", header], row => [$"{row * 20}", Volts(row, 0), Volts(row, 1), Volts(row, 1)]));

        Assert.False(result.Refused, string.Join('\n', result.Problems));
        Assert.Equal(2, result.Sessions[0].Samples.CellCount);
    }

    [Fact]
    public void Amps_over_whole_numbers_of_hundreds_is_a_name_and_no_unit()
    {
        ReadResult open = Logs.ReadText(Log(["time [s]", "cell 1 [V]", "cell 2 [V]", "Amps"], row => [$"{row * 2}", Slowly(row, 0), Slowly(row, 1), "-370"]));
        ReadResult plain = Logs.ReadText(Log(["time [s]", "cell 1 [V]", "cell 2 [V]", "Amps"], row => [$"{row * 20}", Volts(row, 0), Volts(row, 1), Amps(row)]));

        Assert.Contains(open.Problems, problem => problem is { Level: ProblemLevel.Refusal, Code: "ambiguous-unit" });
        Assert.False(plain.Refused, string.Join('\n', plain.Problems));
    }

    [Fact]
    public void A_time_without_a_unit_is_not_bent_to_a_wrong_current()
    {
        ReadResult result = Logs.ReadText(Log(["time", "cell 1 [V]", "cell 2 [V]", "current [A]"], row => [$"{row * 20}", Volts(row, 0), Volts(row, 1), row < 2 ? "0" : "609"]));

        Assert.Contains(result.Problems, problem => problem is { Level: ProblemLevel.Refusal, Code: "ambiguous-time-unit" });
    }

    [Fact]
    public void Fifty_rows_a_second_under_a_load_that_packs_bear_are_milliseconds()
    {
        ReadResult result = Logs.ReadText("time;cell 1 [V];cell 2 [V];current [A]\n" + string.Concat(Enumerable.Range(0, 1500).Select(row => FormattableString.Invariant($"{row * 20};{4.1 - (row < 2 ? 0 : 0.15) - (row * 0.0002):0.000};{4.11 - (row < 2 ? 0 : 0.15) - (row * 0.0002):0.000};{(row < 2 ? 0 : -60)}.0\n"))));

        Assert.False(result.Refused, string.Join('\n', result.Problems));
        Assert.Equal(29.98m, Assert.Single(result.Sessions).Samples.Channels.Single(channel => Logs.Name(channel.Key) == "time").ToDecimals().Last());
    }

    [Fact]
    public void A_part_of_a_day_is_no_hour()
    {
        ReadResult result = Logs.ReadText(Log(["time", "cell 1 [V]", "cell 2 [V]", "current [A]"], row => [FormattableString.Invariant($"{row * 5 / 86400.0:0.0000000}"), Volts(row, 0), Volts(row, 1), Amps(row)]));

        Assert.Contains(result.Problems, problem => problem is { Level: ProblemLevel.Refusal, Code: "ambiguous-time-unit" });
    }

    [Theory]
    [InlineData("a [mV]", "b [mV]")]
    [InlineData("A [mV]", "B [mV]")]
    public void Letters_in_front_of_a_unit_number_the_cells(string first, string second)
    {
        ReadResult result = Logs.ReadText(Log(["t [s]", first, second, "I [A]"], row => [$"{row * 20}", $"{3700 + (row * 5)}", $"{3710 + (row * 5)}", Amps(row)]));

        Assert.Equal(2, Assert.Single(result.Sessions).Samples.CellCount);
    }

    [Theory]
    [InlineData("current (charge negative) [A]", "")]
    [InlineData("current (charge positive) [A]", "-")]
    public void A_header_that_names_both_directions_settles_none(string header, string sign)
    {
        ReadResult result = Logs.ReadText(Log(["time [s]", "cell 1 [V]", "cell 2 [V]", header], row => [$"{row * 20}", Volts(-row, 60), Volts(-row, 61), row < 2 ? "0.00" : $"{sign}2.00"]));

        Assert.False(result.Refused, string.Join('\n', result.Problems));
        Assert.Equal(-2m, result.Sessions[0].Samples.Channels.Single(channel => Logs.Name(channel.Key) == "current").ToDecimals().Last());
    }

    [Theory]
    [InlineData(" C")]
    [InlineData("C")]
    [InlineData("degC")]
    [InlineData(" degC")]
    [InlineData(" °C")]
    public void A_temperature_may_have_its_unit_in_any_form_behind_it(string unit)
    {
        ReadResult result = Logs.ReadText(Log(["time [s]", "cell 1 [V]", "current [A]", "Temperature"], row => [$"{row * 20}", Volts(row, 0), Amps(row), $"25.5{unit}"]));

        Assert.Equal(25.5m, Assert.Single(result.Sessions).Samples.Channels.Single(channel => Logs.Name(channel.Key) == "temperature1").ToDecimals().First());
    }

    [Fact]
    public void A_date_in_the_first_row_alone_does_not_keep_a_log_from_being_read()
    {
        ReadResult result = Logs.ReadText(Log(["date", "time [s]", "cell 1 [V]", "current [A]"], row => [row == 0 ? "2026-05-22" : "", $"{row * 20}", Volts(row, 0), Amps(row)]));

        Assert.False(result.Refused, string.Join('\n', result.Problems));
        Assert.Equal(Rows, Assert.Single(result.Sessions).Samples.Count);
        Assert.Contains(result.Problems, problem => problem.Column == 1);
    }

    // An energy is about the charge times the voltage, as a power is the current times it.
    [Fact]
    public void Without_a_header_a_charge_and_an_energy_are_no_current_and_power()
    {
        double charge = 0;
        double energy = 0;
        ReadResult result = Logs.ReadText(string.Concat(Enumerable.Range(0, 2 * Rows).Select(row =>
        {
            int at = row % Rows;
            (charge, energy) = at == 0 ? (0, 0) : (charge + 0.0055, energy + (0.0055 * 2 * (3.7 + (at * 0.005))));
            var stamp = new DateTime(2026, 3, 14, 9 + (row / Rows * 3), 0, 0, DateTimeKind.Unspecified).AddSeconds(at * 20);
            return FormattableString.Invariant($"{stamp:yyyy-MM-dd HH:mm:ss},{charge:0.000},{3.7 + (at * 0.005):0.000},{3.71 + (at * 0.005):0.000},{energy:0.000}\n");
        })));

        Assert.DoesNotContain(result.Sessions.SelectMany(session => session.Samples.Channels), channel => Logs.Name(channel.Key) == "current");
    }

    [Theory]
    [InlineData("\n")]
    [InlineData("\ntime;cell 1 [V];cell 2 [V];current [A]\n")]
    [InlineData("time;cell 1 [V];cell 2 [V];current [A]\n")]
    public void A_header_or_a_blank_line_with_a_gap_of_time_begins_a_session(string between)
    {
        var started = new DateTime(2026, 3, 14, 9, 0, 0, DateTimeKind.Unspecified);
        string[] rows = [.. Enumerable.Range(0, 2 * Rows).Select(row => FormattableString.Invariant($"{started.AddSeconds((row * 20) + (row < Rows ? 0 : 1200)):yyyy-MM-dd HH:mm:ss};{Volts(row % Rows, 0)};{Volts(row % Rows, 1)};{Amps(row % Rows)}\n"))];
        string text = "time;cell 1 [V];cell 2 [V];current [A]\n" + string.Concat(rows[..Rows]) + between + string.Concat(rows[Rows..]);

        Assert.Equal([Rows, Rows], Logs.ReadText(text).Sessions.Select(session => session.Samples.Count));
    }

    [Fact]
    public void A_counter_that_goes_up_in_charges_and_in_a_discharge_is_left_out()
    {
        string[] rows = [.. Enumerable.Range(0, 3 * Rows).Select(row =>
        {
            int at = row % Rows;
            bool isOut = row >= 2 * Rows;
            double volts = isOut ? 4.0 - (at * 0.003) : 3.7 + (at * 0.005);
            double amps = isOut ? -0.5 : 4;
            return FormattableString.Invariant($"2026-03-14 {9 + (row / Rows):00}:{at / 3:00}:{at % 3 * 20:00};{volts:0.000};{volts + 0.003:0.000};{amps:0.00};{at * Math.Abs(amps) * 20 / 3.6:0}\n");
        })];

        ReadResult result = Logs.ReadText("time;cell 1 [V];cell 2 [V];current [A];counter [mAh]\n" + string.Concat(rows));

        Assert.False(result.Refused, string.Join('\n', result.Problems));
        Assert.Contains(result.Problems, problem => problem.Code == "charge-sign");
    }

    [Theory]
    [InlineData("step time", "total time")]
    [InlineData("Schrittzeit", "Gesamtzeit")]
    [InlineData("t1", "t2")]
    public void A_time_that_begins_anew_with_each_step_gives_way_to_one_that_goes_on(string step, string total)
    {
        foreach (bool isFirst in (bool[])[true, false])
        {
            ReadResult result = Logs.ReadText(Log([isFirst ? step : total, isFirst ? total : step, "cell 1 [V]", "current [A]"], row => [Clock(isFirst ? row % 20 : row), Clock(isFirst ? row : row % 20), Volts(row, 0), Amps(row)]));

            Assert.False(result.Refused, string.Join('\n', result.Problems));
            Assert.Equal(Rows, Assert.Single(result.Sessions).Samples.Count);
        }

        static string Clock(int row) => FormattableString.Invariant($"00:{row / 6:00}:{row % 6 * 10:00}");
    }

    [Theory]
    [InlineData("charge to V per cell_V")]
    [InlineData("end voltage per cell_V")]
    [InlineData("Ladeschluss pro Zelle (V)")]
    public void What_each_cell_is_charged_to_is_no_cell(string header)
    {
        ReadResult result = Logs.ReadText(Log(["time_s", "I_A", "V1_V", "V2_V", header], row => [$"{row * 20}", Amps(row), Volts(row, 0), Volts(row, 1), "4.20"]));

        Assert.Equal(2, Assert.Single(result.Sessions).Samples.CellCount);
    }

    [Fact]
    public void Cells_may_be_named_behind_their_pack_and_packs_beside_each_other_are_refused()
    {
        ReadResult one = Logs.ReadText(Log(["time_s", "Pack1 C1 [V]", "Pack1 C2 [V]", "current [A]"], row => [$"{row * 20}", Volts(row, 0), Volts(row, 1), Amps(row)]));
        ReadResult two = Logs.ReadText(Log(["time_s", "Pack1 C1 [V]", "Pack2 C1 [V]", "current [A]"], row => [$"{row * 20}", Volts(row, 0), Volts(row, 1), Amps(row)]));
        ReadResult open = Logs.ReadText(Log(["time_s", "BAT.1 [V]", "BAT.2 [V]", "current [A]"], row => [$"{row * 20}", Volts(row, 0), Volts(row, 1), Amps(row)]));

        Assert.Equal(2, Assert.Single(one.Sessions).Samples.CellCount);
        Assert.True(two.Refused);
        Assert.Contains(open.Problems, problem => problem is { Level: ProblemLevel.Refusal, Code: "ambiguous-cells" });
    }

    [Theory]
    [InlineData("R1", "R2")]
    [InlineData("Res cell 1", "Res cell 2")]
    public void Resistances_of_the_size_of_cell_voltages_are_none(string one, string other)
    {
        ReadResult result = Logs.ReadText(Log(["time_s", "cell1_V", "cell2_V", "current_A", one, other], row => [$"{row * 20}", Volts(row, 0), Volts(row, 1), Amps(row), row % 2 == 0 ? "3.70" : "3.72", row % 3 == 0 ? "3.80" : "3.83"]));

        Assert.False(result.Refused, string.Join('\n', result.Problems));
        Assert.Equal(2, result.Sessions[0].Samples.CellCount);
    }

    [Theory]
    [InlineData("------;------;------;------\n")]
    [InlineData("======;======;======;======\n")]
    [InlineData("---------------------------\n")]
    public void A_ruler_may_stand_under_the_header(string ruler)
    {
        string text = Log(["time_s", "cell1_V", "cell2_V", "current_A"], row => [$"{row * 20}", Volts(row, 0), Volts(row, 1), Amps(row)]);
        ReadResult result = Logs.ReadText(text.Insert(text.IndexOf('\n', StringComparison.Ordinal) + 1, ruler));

        Assert.False(result.Refused, string.Join('\n', result.Problems));
        Assert.Equal(Rows, result.Sessions[0].Samples.Count);
    }

    [Theory]
    [InlineData("-")]
    [InlineData("NaN")]
    [InlineData("")]
    public void A_reading_may_be_missing_in_the_first_column_of_the_first_row(string missing)
    {
        ReadResult result = Logs.ReadText(Log(["cell1_V", "cell2_V", "current_A", "time_s"], row => [row == 0 ? missing : Volts(row, 0), Volts(row, 1), Amps(row), $"{row * 20}"]));

        Assert.False(result.Refused, string.Join('\n', result.Problems));
        Assert.Equal(Rows, result.Sessions[0].Samples.Count);
    }

    [Theory]
    [InlineData('.')]
    [InlineData(',')]
    public void Numbers_all_of_three_decimals_under_no_header_are_read_by_what_makes_sense_of_more(char mark)
    {
        ReadResult result = Logs.ReadText(string.Concat(Enumerable.Range(0, Rows).Select(row => $"{row * 20};-2.000;{Volts(-row, 60)};{Volts(-row, 61)};{Volts(-row, 62)}\n")).Replace('.', mark));

        Assert.False(result.Refused, string.Join('\n', result.Problems));
        Assert.Equal(-2m, result.Sessions[0].Samples.Channels.Single(channel => Logs.Name(channel.Key) == "current").ToDecimals().First());
    }

    [Theory]
    [InlineData("655.35", true)]
    [InlineData("-327.68", true)]
    public void A_current_that_is_full_of_ones_is_no_reading(string sentinel, bool refused) =>
        Assert.Equal(refused, Logs.ReadText(Log(["time_s", "cell1_V", "cell2_V", "current_A"], row => [$"{row * 20}", Volts(row, 0), Volts(row, 1), row == 30 ? sentinel : Amps(row)])).Problems.Any(problem => problem is { Code: "sentinel", Line: 32 }));

    [Fact]
    public void A_steady_current_of_nines_is_a_reading() =>
        Assert.False(Logs.ReadText(Log(["time_s", "cell1_V", "cell2_V", "current_mA"], row => [$"{row}", Volts(row, 0), Volts(row, 1), row < 2 ? "0" : "9990"])).Refused);

    [Fact]
    public void Rows_of_words_and_values_ahead_of_the_table_under_another_delimiter_are_refused()
    {
        string table = Log(["time", "mode", "cell1_V", "current_A"], row => [$"{row * 20}", "charge", Volts(row, 0), Amps(row)]);
        ReadResult result = Logs.ReadText(string.Join('\n', table.Split('\n').Take(12)).Replace(';', '\t') + "\n" + table);

        Assert.Contains(result.Problems, problem => problem is { Level: ProblemLevel.Refusal, Code: "second-table" });
    }

    [Fact]
    public void A_list_may_have_decimal_commas_that_no_other_column_has_and_readings_missing_between_slashes()
    {
        ReadResult commas = Logs.ReadText(Log(["time_s", "current_mA", "cells [V]"], row => [$"{row * 20}", row < 2 ? "0" : "2000", $"[{Volts(row, 0)} | {Volts(row, 1)}]".Replace('.', ',')]));
        ReadResult slashes = Logs.ReadText(Log(["time_s", "current_A", "cells [V]"], row => [$"{row * 20}", Amps(row), row == 20 ? $"{Volts(row, 0)}/n/a" : $"{Volts(row, 0)}/{Volts(row, 1)}"]));

        Assert.Equal(2, Assert.Single(commas.Sessions).Samples.CellCount);
        Assert.Equal(2, Assert.Single(slashes.Sessions).Samples.CellCount);
    }

    [Fact]
    public void Steps_of_a_few_milliamperes_that_move_cells_as_amperes_do_are_refused_whatever_a_counter_says()
    {
        ReadResult result = Logs.ReadText(Log(["time_s", "cell1_V", "cell2_V", "current_mA", "charge_mAh"], row => [$"{row * 20}", FormattableString.Invariant($"{3.7 + (row < 2 ? 0 : 0.03) + (row * 0.0005):0.000}"), FormattableString.Invariant($"{3.71 + (row < 2 ? 0 : 0.03) + (row * 0.0005):0.000}"), Amps(row), FormattableString.Invariant($"{Math.Max(0, row - 2) * 2 / 180.0:0.000}")]));

        Assert.Contains(result.Problems, problem => problem is { Level: ProblemLevel.Refusal, Code: "unit-unclear" });
    }

    [Fact]
    public void Minutes_without_seconds_are_pointed_at_with_two_rows_to_each()
    {
        ReadResult result = Logs.ReadText(Log(["time", "cell1_V", "cell2_V", "current_A"], row => [FormattableString.Invariant($"2026-03-14 09:{row / 2:00}"), Volts(row, 0), Volts(row, 1), Amps(row)]));

        Assert.Contains(result.Problems, problem => problem.Code == "time-stands-still");
    }

    [Fact]
    public void Cells_that_fall_to_nought_in_the_middle_of_a_session_are_pointed_at()
    {
        ReadResult result = Logs.ReadText(Log(["time_s", "pack", "cell1_V", "cell2_V"], row => [$"{row * 20}", row < 30 ? "Heron" : "Egret", row is > 40 and < 45 ? "0.000" : Volts(row % 30, 0), row is > 40 and < 45 ? "0.000" : Volts(row % 30, 1)]));

        Assert.Contains(result.Problems, problem => problem is { Code: "low-cell", Line: 43 });
    }

    // What is no blank line parts nothing, wherever else one stands.
    [Theory]
    [InlineData("# a remark\n", "\n")]
    [InlineData("", "\n")]
    public void A_gap_beside_a_remark_is_one_session(string between, string end)
    {
        var started = new DateTime(2026, 3, 14, 9, 0, 0, DateTimeKind.Unspecified);
        string[] rows = [.. Enumerable.Range(0, 2 * Rows).Select(row => FormattableString.Invariant($"{started.AddSeconds((row * 10) + (row < Rows ? 0 : 310)):yyyy-MM-dd HH:mm:ss};{Volts(row, 0)};{Volts(row, 1)};{Amps(row)}\n"))];

        Assert.Single(Logs.ReadText("time;cell 1 [V];cell 2 [V];current [A]\n" + string.Concat(rows[..Rows]) + between + string.Concat(rows[Rows..]) + end).Sessions);
    }

    [Fact]
    public void A_blank_line_parts_sessions_whichever_way_round_a_log_stands()
    {
        var started = new DateTime(2026, 3, 14, 9, 0, 0, DateTimeKind.Unspecified);
        string[] rows = [.. Enumerable.Range(0, 2 * Rows).Select(row => FormattableString.Invariant($"{started.AddSeconds((row * 10) + (row < Rows ? 0 : 1200)):yyyy-MM-dd HH:mm:ss};{Volts(row % Rows, 0)};{Volts(row % Rows, 1)};{Amps(row % Rows)}\n"))];

        foreach (string[] order in (string[][])[rows, [.. rows.Reverse()]])
        {
            Assert.Equal([Rows, Rows], Logs.ReadText("time;cell 1 [V];cell 2 [V];current [A]\n" + string.Concat(order[..Rows]) + "\n" + string.Concat(order[Rows..])).Sessions.Select(session => session.Samples.Count));
        }
    }

    [Theory]
    [InlineData("Amp [A]")]
    [InlineData("AMP (A)")]
    public void Amperes_in_brackets_are_a_unit(string header)
    {
        ReadResult result = Logs.ReadText(Log(["time [s]", "cell 1 [V]", "cell 2 [V]", header], row => [$"{row}", Volts(-row, row < 2 ? 80 : 60), Volts(-row, row < 2 ? 81 : 61), row < 2 ? "0" : "-80"]));

        Assert.False(result.Refused, string.Join('\n', result.Problems));
        Assert.Equal(-80m, result.Sessions[0].Samples.Channels.Single(channel => Logs.Name(channel.Key) == "current").ToDecimals().Last());
    }

    [Fact]
    public void A_voltage_per_cell_is_one_of_the_pack_of_one() =>
        Assert.Equal(1, Assert.Single(Logs.ReadText(Log(["time [s]", "Voltage per cell [V]", "current [A]"], row => [$"{row * 20}", Volts(row, 0), Amps(row)])).Sessions).Samples.CellCount);

    [Fact]
    public void Currents_of_both_directions_may_be_said_to_be_positive()
    {
        ReadResult result = Logs.ReadText(Log(["time [s]", "cell 1 [V]", "cell 2 [V]", "Charge current (positive) [A]", "Discharge current (positive) [A]"], row => [$"{row * 20}", Volts(row, 0), Volts(row, 1), Amps(row), "0.00"]));

        Assert.False(result.Refused, string.Join('\n', result.Problems));
    }

    [Fact]
    public void Lines_of_words_and_figures_ahead_of_a_table_are_no_rows() =>
        Assert.False(Logs.ReadText("4 cells 2200 mAh 1 C\n4 cells 5000 mAh 2 C\n" + Log(["time [s]", "cell 1 [V]", "cell 2 [V]", "current [A]"], row => [$"{row * 20}", Volts(row, 0), Volts(row, 1), Amps(row)])).Refused);

    private static string Log(string[] header, Func<int, string[]> fields) =>
        string.Join(';', header) + "\n" + string.Concat(Enumerable.Range(0, Rows).Select(row => string.Join(';', fields(row)) + "\n"));

    private static string Volts(int row, int more) => FormattableString.Invariant($"{3.7 + (row * 0.005) + (more * 0.005):0.000}");

    private static string Slowly(int row, int more) => FormattableString.Invariant($"{4.15 - (row / 3 * 0.001) + (more * 0.005):0.000}");

    private static string Amps(int row) => row < 2 ? "0.00" : "2.00";
}
