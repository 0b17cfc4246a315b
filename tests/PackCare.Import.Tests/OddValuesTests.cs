using System.Globalization;
using PackCare.Core.Reading;

namespace PackCare.Import.Tests;

/// <summary>An invented discharge of three cells under a load that varies, in which a value, a sign, a word or the clock is damaged.</summary>
public class OddValuesTests
{
    private const int Count = 60;

    private static readonly Sample[] Samples = [.. Discharge()];

    [Fact]
    public void The_log_without_damage_is_read_in_either_layout()
    {
        Assert.Empty(Logs.ReadText(Wide(Samples)).Problems);
        Assert.Empty(Logs.ReadText(Long(Samples)).Problems);
    }

    // Of one row a cell and moment, the damaged row is one of three.
    [Theory]
    [InlineData(0)]
    [InlineData(25)]
    [InlineData(Count - 1)]
    public void A_cell_that_lost_a_digit_in_one_row_of_a_cell_is_told(int place)
    {
        string[] rows = Long(Samples).Split('\n');
        int line = 2 + (3 * place) + 1;
        string[] fields = rows[line - 1].Split(',');
        rows[line - 1] = string.Join(',', [fields[0], fields[1], "3.19", fields[3]]);

        ReadResult result = Logs.ReadText(string.Join('\n', rows));

        Assert.Contains(result.Problems, problem => problem.Code == "odd-digits" && problem.Line == line && problem.Column == 3);
        Assert.Contains(result.Problems, problem => problem.Code == "spike" && problem.Line == line && problem.Column == 3);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(Count - 1)]
    public void A_cell_that_is_elsewhere_in_the_first_or_last_row_is_told(int place)
    {
        ReadResult result = Logs.ReadText(Wide(With(place, sample => sample with { Cells = [sample.Cells[0], sample.Cells[1] - 0.3, sample.Cells[2]] })));

        Assert.Contains(result.Problems, problem => problem.Code == "spike" && problem.Line == place + 2 && problem.Column == 4);
    }

    [Fact]
    public void A_current_without_its_decimal_mark_is_told_where_cells_have_moved_by_a_little_too()
    {
        ReadResult result = Logs.ReadText(Wide(With(25, sample => sample with { Amps = sample.Amps * 100, Cells = [.. sample.Cells.Select(volts => volts + 0.003)] })));

        Assert.Contains(result.Problems, problem => problem.Code == "spike" && problem.Line == 27 && problem.Column == 2);
    }

    [Theory]
    [InlineData(14)]
    [InlineData(25)]
    [InlineData(41)]
    public void A_single_turned_sign_under_a_varying_load_is_told(int place)
    {
        ReadResult result = Logs.ReadText(Wide(With(place, sample => sample with { Amps = -sample.Amps })));

        Assert.Contains(result.Problems, problem => problem.Code == "spike" && problem.Line == place + 2 && problem.Column == 2);
    }

    [Fact]
    public void A_short_braking_that_the_cells_answer_is_no_turned_sign()
    {
        ReadResult result = Logs.ReadText(Wide(With(25, sample => sample with { Amps = 3, Cells = [.. sample.Cells.Select(volts => volts + (0.008 * (3 - sample.Amps)))] })));

        Assert.Empty(result.Problems);
    }

    [Fact]
    public void A_counter_that_loses_its_sign_from_a_row_on_is_refused_there()
    {
        ReadResult result = Logs.ReadText(Wide(Samples.Select((sample, i) => i < 30 ? sample : sample with { Charge = -sample.Charge })));

        Assert.Equal([("charge-disagrees", 32)], [.. Refusals(result)]);
    }

    [Fact]
    public void A_current_that_loses_its_sign_while_its_counter_goes_on_is_refused_there()
    {
        (double Amps, double Drop)[] loads = [.. Enumerable.Range(0, 9).Select(i => i < 6 ? (-0.8, 0.0) : (-6.9, 0.03))];
        double charge = -0.490;
        string[] rows = [.. loads.Select((load, i) => string.Create(
            CultureInfo.InvariantCulture, $"{2 * i},{(i < 6 ? load.Amps : -load.Amps):F3},{3.7193 - load.Drop:F4},{3.7144 - load.Drop:F4},{charge += load.Amps * 2 / 3600:F4}"))];

        ReadResult result = Logs.ReadText("time [s],current [A],cell 1 [V],cell 2 [V],charge [Ah]\n" + string.Join('\n', rows) + "\n");

        Assert.Equal([("direction-unclear", 8)], [.. Refusals(result)]);
    }

    [Theory]
    [InlineData("décharge", "repos", "dé5charge")]
    [InlineData("discharge", "rest", "dischrge")]
    [InlineData("Entladen", "Pause", "Entlbden")]
    public void A_damaged_word_in_a_column_of_modes_is_refused(string discharge, string rest, string damaged)
    {
        string Mode(Sample sample, int i) => i == 25 ? damaged : sample.Amps == 0 ? rest : discharge;
        string log = "time [s],current [A],cell 1 [V],cell 2 [V],mode\n" + string.Concat(Samples.Select((sample, i) => string.Create(
            CultureInfo.InvariantCulture, $"{10 * i},{-sample.Amps:F2},{sample.Cells[0]:F3},{sample.Cells[1]:F3},{Mode(sample, i)}\n")));

        Assert.Equal([("direction-unclear", 27)], [.. Refusals(Logs.ReadText(log))]);
    }

    [Fact]
    public void An_unsigned_current_while_cells_are_balanced_is_told_where_nothing_else_charges()
    {
        string Mode(Sample sample, int i) => i >= 50 ? "balance" : sample.Amps == 0 ? "rest" : "discharge";
        string log = "time [s],current [A],cell 1 [V],cell 2 [V],mode\n" + string.Concat(Samples.Select((sample, i) => string.Create(
            CultureInfo.InvariantCulture, $"{10 * i},{(i >= 50 ? 0.1 : -sample.Amps):F2},{sample.Cells[0]:F3},{sample.Cells[1]:F3},{Mode(sample, i)}\n")));

        Assert.Contains(Logs.ReadText(log).Problems, problem => problem is { Code: "sign-assumed", Line: 52, Column: 2 });
    }

    [Fact]
    public void A_clock_that_is_set_by_an_hour_under_load_is_told()
    {
        var start = new DateTime(2026, 5, 7, 10, 0, 0);
        string log = "timestamp,current [A],cell 1 [V],cell 2 [V]\n" + string.Concat(Enumerable.Range(0, 40).Select(i => string.Create(
            CultureInfo.InvariantCulture, $"{start.AddSeconds((4 * i) + (i < 20 ? 0 : 3600)):yyyy-MM-dd HH:mm:ss},{(i < 3 ? 0 : -4):F2},{3.8 - (0.001 * i) - (i < 3 ? 0 : 0.03):F3},{3.79 - (0.001 * i) - (i < 3 ? 0 : 0.03):F3}\n")));

        ReadResult result = Logs.ReadText(log);

        Assert.Contains(result.Problems, problem => problem is { Code: "clock-jumps", Line: 22 });
        Assert.Equal(2, result.Sessions.Count);
    }

    [Fact]
    public void A_logger_that_pauses_under_load_is_read_with_its_counter()
    {
        double charge = 0;
        string log = "time [s],current [A],cell 1 [V],cell 2 [V],charge [mAh]\n" + string.Concat(Enumerable.Range(0, 20).Select(i => string.Create(
            CultureInfo.InvariantCulture, $"{(i < 8 ? i : i + 300)},{-10 - (i % 3)},{3.8 - (0.01 * (i % 3)):F3},{3.79 - (0.01 * (i % 3)):F3},{charge -= (10 + (i % 3)) / 3.6:F1}\n")));

        ReadResult result = Logs.ReadText(log);

        Assert.Empty(Refusals(result));
        Assert.Contains(result.Reading!.Columns, column => column is { Index: 5, Meaning: ColumnMeaning.Charge });
    }

    [Fact]
    public void A_few_currents_in_amperes_before_milliamperes_are_refused_where_cells_do_not_answer()
    {
        string[] amps = ["-0.37", "-0.77", "-690", "0", "-320", "-290", "0", "0", "240", "240"];
        string log = "time [s],cell,cell voltage [V],current [A]\n" + string.Concat(amps.SelectMany((value, i) => Enumerable.Range(1, 3).Select(cell => string.Create(
            CultureInfo.InvariantCulture, $"{2 * i},{cell},{3.69 + (0.002 * i) + (0.001 * cell):F3},{value}\n"))));

        Assert.Equal([("unit-unclear", 8)], [.. Refusals(Logs.ReadText(log))]);
    }

    [Fact]
    public void A_charge_in_steps_of_10_mV_has_its_sign()
    {
        string log = "time [s],current [A],cell 1 [V],cell 2 [V],cell 3 [V]\n" + string.Concat(Enumerable.Range(0, 400).Select(i =>
        {
            double amps = i is < 5 or >= 380 ? 0 : i < 250 ? 2 : 2 * Math.Exp(-(i - 250) / 60.0);
            double volts = Math.Min(4.2, 3.75 + (0.0018 * Math.Min(i, 250))) + (amps * 0.006);
            return string.Create(CultureInfo.InvariantCulture, $"{10 * i},{amps:F2},{volts + (0.004 * Math.Sin(i * 7.1)):F2},{volts + (0.004 * Math.Sin(i * 5.3)):F2},{volts + (0.004 * Math.Sin(i * 3.7)):F2}\n");
        }));

        Assert.Empty(Refusals(Logs.ReadText(log)));
    }

    [Fact]
    public void Readings_that_two_cells_lack_one_after_the_other_are_no_shifted_row()
    {
        string log = "time [s],cell 1 [V],cell 2 [V]\n" + string.Concat(Enumerable.Range(0, 12).Select(i => string.Create(
            CultureInfo.InvariantCulture, $"{10 * i},{(i == 5 ? "NaN" : $"3.9{40 - (2 * i)}")},{(i == 6 ? "" : $"3.9{39 - (2 * i)}")}\n")));

        ReadResult result = Logs.ReadText(log);

        Assert.Empty(Refusals(result));
        Assert.Equal(12, Assert.Single(result.Sessions).Samples.Count);
    }

    [Theory]
    [InlineData("Time,Cell,Cell", "s,1 mV,2 mV", "3728,3722")]
    [InlineData("Time,Cell,,Resistance cell,", "s,1 V,2 V,1 mΩ,2 mΩ", "3.728,3.722,11.1,12.0")]
    public void A_second_line_of_a_header_may_number_cells_with_their_units(string upper, string lower, string row)
    {
        string log = upper + "\n" + lower + "\n" + string.Concat(Enumerable.Range(0, 8).Select(i => $"{10 * i},{row}\n"));

        ReadResult result = Logs.ReadText(log);

        Assert.Empty(Refusals(result));
        Assert.Equal(2, Assert.Single(result.Sessions).Samples.CellCount);
    }

    [Theory]
    [InlineData("current")]
    [InlineData("pack voltage")]
    [InlineData("charge")]
    public void A_column_that_loses_its_decimal_mark_from_a_row_on_is_refused_there(string column)
    {
        string Without(string value, string of, int i) => of == column && i >= 30 ? value.Replace(".", "", StringComparison.Ordinal) : value;
        string log = "time [s],current,cell 1 [V],cell 2 [V],pack voltage,charge\n" + string.Concat(Samples.Select((sample, i) => string.Create(
            CultureInfo.InvariantCulture, $"{10 * i},{Without($"{sample.Amps:F2}", "current", i)},{sample.Cells[0]:F3},{sample.Cells[1]:F3},{Without($"{sample.Cells[0] + sample.Cells[1]:F3}", "pack voltage", i)},{Without($"{sample.Charge - 10:F3}", "charge", i)}\n")));

        InputProblem refusal = Logs.ReadText(log).Problems.First(problem => problem.Level == ProblemLevel.Refusal);

        Assert.Equal(32, refusal.Line);
    }

    [Fact]
    public void Rows_of_another_log_put_in_between_are_refused_where_they_begin()
    {
        string[] rows = Wide(Samples).TrimEnd('\n').Split('\n');
        string[] pasted = [.. rows[..31], .. rows[1..16].Select((row, i) => $"{(7.5 * i).ToString(CultureInfo.InvariantCulture)}{row[row.IndexOf(',', StringComparison.Ordinal)..]}"), .. rows[31..]];

        Assert.Equal([("time-backwards", 32)], [.. Refusals(Logs.ReadText(string.Join('\n', pasted) + "\n"))]);
    }

    [Fact]
    public void All_rows_of_one_cell_before_all_of_the_next_without_a_header_are_no_sessions()
    {
        string log = string.Concat(Enumerable.Range(1, 3).SelectMany(cell => Samples.Select((sample, i) => string.Create(
            CultureInfo.InvariantCulture, $"{4 * i} {cell} {sample.Cells[cell - 1] * 1000:F0}mV {sample.Amps * 1000:F0}mA {sample.Cells.Sum() * 1000:F0}mV\n"))));

        ReadResult result = Logs.ReadText(log);

        Assert.True(result.Refused || Assert.Single(result.Sessions).Samples.CellCount == 3);
    }

    [Fact]
    public void A_steady_current_with_noise_has_no_resistance()
    {
        string log = string.Concat(Enumerable.Range(0, 40).Select(i => string.Create(
            CultureInfo.InvariantCulture, $"{10 * i};{-2800 + ((i * 7 % 3) - 1)};{4.05 - (0.004 * i) + (0.001 * (i * 7 % 3)):F3};{4.04 - (0.004 * i) + (0.001 * (i * 7 % 3)):F3}\n")));

        Assert.Empty(Refusals(Logs.ReadText(log)));
    }

    [Theory]
    [InlineData(25, "current")]
    [InlineData(Count - 1, "current")]
    [InlineData(25, "cell")]
    public void An_odd_value_of_one_pack_that_takes_turns_with_another_is_told(int place, string what)
    {
        string[] rows = [.. Samples.Select((sample, i) => sample with { Amps = i < 5 ? 0 : -7.5 }).SelectMany((sample, i) =>
        {
            bool odd = i == place;
            double amps = odd && what == "current" ? -sample.Amps : sample.Amps;
            double first = 4.05 - (0.002 * i) - (i < 5 ? 0 : 0.06);
            double second = first - 0.006 + (odd && what == "cell" ? 0.4 : 0);
            return (string[])[string.Create(CultureInfo.InvariantCulture, $"{10 * i},Otter,{amps:F2},{first:F3},{second:F3}"), string.Create(CultureInfo.InvariantCulture, $"{10 * i},Heron,{(i < 5 ? 0 : 2):F2},{3.7 + (0.001 * i):F3},{3.71 + (0.001 * i):F3}")];
        })];

        ReadResult result = Logs.ReadText("time [s],pack,current [A],cell 1 [V],cell 2 [V]\n" + string.Join('\n', rows) + "\n");

        Assert.Contains(result.Problems, problem => problem.Code == "spike" && problem.Line == 2 + (2 * place) && problem.Column == (what == "current" ? 3 : 5));
    }

    [Fact]
    public void A_pack_voltage_that_is_no_number_from_a_row_on_is_refused_there()
    {
        string log = "time [s],pack voltage,cell 1 [V],cell 2 [V]\n" + string.Concat(Samples.Select((sample, i) => string.Create(
            CultureInfo.InvariantCulture, $"{10 * i},{(i < 30 ? $"{sample.Cells[0] + sample.Cells[1]:F3}" : "#####")},{sample.Cells[0]:F3},{sample.Cells[1]:F3}\n")));

        Assert.Equal([("not-a-number", 32)], [.. Refusals(Logs.ReadText(log))]);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(25)]
    [InlineData(Count - 1)]
    public void A_row_that_was_written_twice_is_told(int place)
    {
        ReadResult result = Logs.ReadText(Twice(Wide(Samples), place + 2));

        Assert.Equal(("repeated-rows", place + 3), (Assert.Single(result.Problems).Code, result.Problems[0].Line));
        Assert.Equal(Count + 1, Assert.Single(result.Sessions).Samples.Count);

        static string Twice(string log, int line)
        {
            List<string> rows = [.. log.Split('\n')];
            rows.Insert(line, rows[line - 1]);
            return string.Join('\n', rows);
        }
    }

    [Fact]
    public void Rows_alike_under_a_clock_that_gives_each_second_to_two_of_them_are_none_written_twice()
    {
        string log = "time [s],current [A],cell 1 [V],cell 2 [V]\n" + string.Concat(Samples.Select((sample, i) => string.Create(
            CultureInfo.InvariantCulture, $"{i / 2},{(i < 30 ? 0 : -4):F2},{(i < 30 ? 4.1 : 4.05):F3},{(i < 30 ? 4.09 : 4.04):F3}\n")));

        Assert.Empty(Logs.ReadText(log).Problems);
    }

    private static IEnumerable<(string Code, int Line)> Refusals(ReadResult result) =>
        result.Problems.Where(problem => problem.Level == ProblemLevel.Refusal).Select(problem => (problem.Code, problem.Line ?? 0));

    private static Sample[] With(int place, Func<Sample, Sample> change) => [.. Samples.Select((sample, i) => i == place ? change(sample) : sample)];

    private static string Wide(IEnumerable<Sample> samples) => "time [s],current [A],cell 1 [V],cell 2 [V],cell 3 [V],charge [Ah]\n" + string.Concat(samples.Select((sample, i) => string.Create(
        CultureInfo.InvariantCulture, $"{10 * i},{sample.Amps:F2},{sample.Cells[0]:F3},{sample.Cells[1]:F3},{sample.Cells[2]:F3},{sample.Charge:F4}\n")));

    private static string Long(IEnumerable<Sample> samples) => "time [s],cell,cell voltage [V],current [A]\n" + string.Concat(samples.SelectMany((sample, i) => sample.Cells.Select((volts, cell) => string.Create(
        CultureInfo.InvariantCulture, $"{10 * i},{cell + 1},{volts:F3},{sample.Amps:F2}\n"))));

    private static IEnumerable<Sample> Discharge()
    {
        double charge = 0;
        for (int i = 0; i < Count; i++)
        {
            double amps = i < 5 ? 0 : -Math.Round(6 + (3 * Math.Sin(i)) + ((i * 37) % 11 * 0.2), 2);
            double[] cells = [.. Enumerable.Range(0, 3).Select(c => Math.Round(4.05 + (0.25 * charge) - (0.006 * c) + (0.008 * amps) + (0.0004 * ((i * 7) % 3)), 3))];
            yield return new Sample(amps, cells, charge);
            charge += amps * 10 / 3600;
        }
    }

    private sealed record Sample(double Amps, double[] Cells, double Charge);
}
