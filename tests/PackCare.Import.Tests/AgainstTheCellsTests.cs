using PackCare.Core.Reading;
using PackCare.Core.Samples;
using static PackCare.Import.Tests.TestSession;

namespace PackCare.Import.Tests;

/// <summary>A current is held against what the cells do: in each session, for another current beside it, for a power in its place, for units.</summary>
public class AgainstTheCellsTests
{
    [Fact]
    public void Sessions_that_go_both_ways_under_a_current_without_a_sign_are_refused()
    {
        // Without a rest between, no step of the current shows in the second session.
        List<Row> charge = Charge();
        List<Row> fall = Of(60, 40, 4.12, _ => -4);
        string log = Log("timestamp,current [A],cell 1 [V],cell 2 [V],cell 3 [V]", charge, (row, _) => $"{At(row, 9)},{row.Size},{row.V}") + Log("", fall, (row, _) => $"{At(row, 15)},{row.Size},{row.V}");

        Assert.Equal("direction-unclear", Refusal(log).Code);
    }

    [Fact]
    public void A_pack_that_charges_while_another_in_turn_discharges_under_a_current_without_a_sign_is_refused()
    {
        List<Row> up = Charge(amps: 1.5);
        List<Row> down = Discharge();
        string log = "time [s],pack,current [A],cell 1 [V],cell 2 [V],cell 3 [V]\n" + string.Concat(up.Zip(down, (one, other) => $"{one.T},Otter,{one.Size},{one.V}\n{other.T},Heron,{other.Size},{other.V}\n"));

        Assert.Equal("direction-unclear", Refusal(log).Code);
    }

    [Theory]
    [InlineData("reversed")]
    [InlineData("a tenth")]
    public void A_charge_whose_later_discharge_was_damaged_is_not_turned_round(string damage)
    {
        List<Row> rows = Of(120, 60, 3.6, i => i < 3 ? 0 : i < 50 ? 2 : i < 56 ? 0 : -2);
        string log = Log("time [s],current [A],cell 1 [V],cell 2 [V],cell 3 [V]", rows, (row, i) => $"{row.T},{(i < 56 ? row.I : damage == "reversed" ? row.Size : (row with { Amps = row.Amps / 10 }).I)},{row.V}");

        ReadResult result = Logs.ReadText(log);

        Assert.True(result.Refused || result.Sessions[0].Samples.Values(ChannelKey.Current)!.Sum() > 0);
        Assert.True(damage != "reversed" || result.Refused);
    }

    [Theory]
    [InlineData("in A,from A")]
    [InlineData("i_chg,xyz")]
    [InlineData("current,extra")]
    public void A_second_current_that_would_be_left_out_is_refused_where_the_cells_answer_it(string headers)
    {
        List<Row> rows = Of(60, 40, 3.8, i => i < 3 ? 0 : i < 28 ? 4 : i < 32 ? 0 : i < 57 ? -5 : 0);
        string log = Log($"time [s],{headers},cell 1 [V],cell 2 [V],cell 3 [V]", rows, (row, _) => $"{row.T},{(row.Amps > 0 ? row.Size : "0.00")},{(row.Amps < 0 ? row.Size : "0.00")},{row.V}");

        ReadResult result = Logs.ReadText(log);

        Assert.True(result.Refused || result.Sessions.Sum(session => session.Samples.Values(ChannelKey.Current)!.Sum()) < 0, "half the current was lost");
    }

    [Theory]
    [InlineData("I+,I-")]
    [InlineData("i_chg [A],i_dis [A]")]
    [InlineData("Ich,Idis")]
    [InlineData("charge_a,discharge_a")]
    [InlineData("Latausvirta [A],Purkuvirta [A]")]
    public void A_current_in_and_one_out_make_one(string headers)
    {
        List<Row> rows = Of(60, 40, 3.8, i => i < 3 ? 0 : i < 28 ? 4 : i < 32 ? 0 : i < 57 ? -5 : 0);
        string log = Log($"time [s],{headers},cell 1 [V],cell 2 [V],cell 3 [V]", rows, (row, _) => $"{row.T},{(row.Amps > 0 ? row.Size : "0.00")},{(row.Amps < 0 ? row.Size : "0.00")},{row.V}");

        ReadResult result = Logs.ReadText(log);

        Assert.Empty(result.Problems);
        Assert.Equal(rows.Select(row => row.Amps), result.Sessions.SelectMany(session => session.Samples.Values(ChannelKey.Current)!));
    }

    [Theory]
    [InlineData("Iset [A]")]
    [InlineData("ilim [A]")]
    [InlineData("Inställd ström [A]")]
    [InlineData("Corriente fijada [A]")]
    public void A_current_that_was_set_is_not_one_that_flowed(string header)
    {
        List<Row> rows = Discharge();

        ReadResult result = Logs.ReadText(Log($"time [s],cell 1 [V],cell 2 [V],cell 3 [V],Discharge current [A],{header}", rows, (row, _) => $"{row.T},{row.V},{row.Size},5.00"));

        Assert.Equal(rows.Select(row => row.Amps), Assert.Single(result.Sessions).Samples.Values(ChannelKey.Current)!);
    }

    [Fact]
    public void A_power_and_its_energy_without_a_header_are_no_current_and_its_charge()
    {
        double energy = 0;
        string log = Log("", Discharge(), (row, _) => FormattableString.Invariant($"{row.T},{row.V},{row.Amps * row.Cells.Sum():F2},{energy += row.Amps * row.Cells.Sum() * 40 / 3600:F4}"));

        ReadResult result = Logs.ReadText(log);

        Assert.True(result.Refused);
    }

    [Theory]
    [InlineData("time [s],current [mA],cell 1 [V],cell 2 [V],cell 3 [V]", 1.0)]
    [InlineData("time [ms],current [A],cell 1 [V],cell 2 [V],cell 3 [V]", 1.0)]
    [InlineData("time [min],current [A],cell 1 [V],cell 2 [V],cell 3 [V]", 1000.0)]
    public void Stated_units_under_which_a_pack_would_hold_next_to_nothing_or_far_too_much_are_refused(string header, double factor)
    {
        string log = Log(header, Charge(), (row, _) => FormattableString.Invariant($"{row.Seconds * factor},{row.I},{row.V}"));

        Assert.Equal("unit-unclear", Refusal(log).Code);
    }

    [Fact]
    public void A_light_load_after_a_heavy_one_is_no_damage()
    {
        // The cells rise by 70 mV more than their resistance makes of it, and slowly.
        List<Row> rows = Of(90, 10, 3.9, i => i < 3 ? 0 : i < 40 ? -30 : i < 87 ? -2 : 0);
        string log = Log("time [s],current [A],cell 1 [V],cell 2 [V],cell 3 [V]", rows, (row, i) => FormattableString.Invariant($"{row.T},{row.I},{string.Join(',', row.Cells.Select(volts => (volts + (i < 40 ? -0.07 * Math.Min(1, i / 20.0) : -0.07 * Math.Exp((40 - i) / 12.0))).ToString("F3", System.Globalization.CultureInfo.InvariantCulture)))}"));

        Assert.False(Logs.ReadText(log).Refused);
    }

    [Theory]
    [InlineData("carica", "scarica", "riposo")]
    [InlineData("Carica", "Scarica", "Pausa")]
    public void Words_for_either_direction_that_differ_by_a_letter_are_no_damage(string charge, string discharge, string rest)
    {
        List<Row> rows = Of(60, 40, 3.8, i => i < 3 ? 0 : i < 28 ? 4 : i < 32 ? 0 : i < 57 ? -5 : 0);
        string log = Log("Tempo [s],Corrente [A],Cella 1 [V],Cella 2 [V],Cella 3 [V],Modo", rows, (row, _) => $"{row.T},{row.Size},{row.V},{(row.Amps > 0 ? charge : row.Amps < 0 ? discharge : rest)}");

        Assert.Empty(Logs.ReadText(log).Problems);
    }

    [Fact]
    public void A_counter_that_comes_to_the_other_side_of_nought_by_one_of_its_steps_is_read()
    {
        // 22 and -22 mAh, with the steps of 44 that four amperes make in 40 s.
        List<Row> rows = Of(60, 40, 3.9, i => i < 3 ? 0 : i < 20 ? 4 : i < 24 ? 0 : -4);
        string log = Log("time [s],current [A],cell 1 [V],cell 2 [V],cell 3 [V],charge [mAh]", rows, (row, _) => FormattableString.Invariant($"{row.T},{row.I},{row.V},{(row.Charge * 1000) + 0.2:F0}"));

        Assert.False(Logs.ReadText(log).Refused);
    }

    private static string At(Row row, int hour) => new DateTime(2026, 3, 4, hour, 0, 0).AddSeconds(row.Seconds).ToString("yyyy-MM-dd HH:mm:ss", System.Globalization.CultureInfo.InvariantCulture);

    private static InputProblem Refusal(string log) => Logs.ReadText(log).Problems.First(problem => problem.Level == ProblemLevel.Refusal);
}
