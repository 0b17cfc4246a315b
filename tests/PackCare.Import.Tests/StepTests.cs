using PackCare.Core.Reading;
using static PackCare.Import.Tests.TestSession;

namespace PackCare.Import.Tests;

/// <summary>One current flows through all cells of a pack: where it steps they all step, and where it does not none does by itself.</summary>
public class StepTests
{
    private const string Header = "time [s],current [A],cell 1 [V],cell 2 [V],cell 3 [V]";

    // 4 A lower and higher in turns; each lasts 15 rows, from row 0 on.
    private static readonly List<Row> _rows = Of(180, 1, 4.0, i => (i / 15 % 2) == 0 ? -2 : -10);

    [Fact]
    public void Steps_that_all_share_are_not_told() => Assert.Empty(Logs.ReadText(Log(Header, _rows, (row, _) => $"{row.T},{row.I},{row.V}")).Problems);

    [Theory]
    [InlineData(0, "a current that was lost")]
    [InlineData(0.1, "one that lost a place")]
    public void A_current_that_steps_while_the_cells_stay_is_told(double factor, string what)
    {
        _ = what;
        string log = Log(Header, _rows, (row, i) => FormattableString.Invariant($"{row.T},{(i is >= 52 and < 97 ? row.Amps * factor : row.Amps):F2},{row.V}"));

        Assert.Equal(54, Told(log, "step-unmatched").Line);
    }

    [Fact]
    public void Cells_that_step_while_the_current_stands_still_are_told()
    {
        string log = Log(Header, _rows, (row, i) => FormattableString.Invariant($"{row.T},{(i is >= 52 and < 97 ? -10 : row.Amps):F2},{row.V}"));

        Assert.Equal(62, Told(log, "step-unmatched").Line);
    }

    [Theory]
    [InlineData(7)]
    [InlineData(-6)]
    public void A_cell_whose_column_was_moved_up_or_down_is_told(int rows)
    {
        string log = Log(Header, _rows, (row, i) => FormattableString.Invariant($"{row.T},{row.I},{row.Cells[0]:F3},{_rows[Math.Clamp(i + rows, 0, 179)].Cells[1]:F3},{row.Cells[2]:F3}"));

        Assert.Equal((17, 4), At(Told(log, "cell-apart")));
    }

    [Fact]
    public void A_cell_whose_column_was_sorted_is_told()
    {
        double[] sorted = [.. _rows.Select(row => row.Cells[2]).OrderDescending()];
        string log = Log(Header, _rows, (row, i) => FormattableString.Invariant($"{row.T},{row.I},{row.Cells[0]:F3},{row.Cells[1]:F3},{sorted[i]:F3}"));

        Assert.Equal(5, Told(log, "cell-apart").Column);
    }

    [Theory]
    [InlineData(0.04)]
    [InlineData(-0.05)]
    [InlineData(0.3)]
    public void A_cell_that_lies_elsewhere_from_some_row_on_is_told(double volts)
    {
        string log = Log(Header, _rows, (row, i) => FormattableString.Invariant($"{row.T},{row.I},{row.Cells[0]:F3},{row.Cells[1] + (i < 52 ? 0 : volts):F3},{row.Cells[2]:F3}"));

        Assert.Equal((54, 4), At(Told(log, "voltage-jumps")));
    }

    [Fact]
    public void Cells_close_together_that_take_each_others_place_are_told()
    {
        string log = Log(Header, _rows, (row, i) => FormattableString.Invariant($"{row.T},{row.I},{row.Cells[0] + 0.03:F3},{row.Cells[i < 52 ? 1 : 2] + (i < 52 ? 0 : 0.025):F3},{row.Cells[i < 52 ? 2 : 1] + (i < 52 ? 0.025 : 0):F3}"));

        Assert.Equal((54, 5), At(Told(log, "cells-cross")));
    }

    [Fact]
    public void A_pack_voltage_that_leaves_the_sum_while_the_cells_stay_is_told()
    {
        string log = Log($"{Header},pack [V]", _rows, (row, i) => FormattableString.Invariant($"{row.T},{row.I},{row.V},{row.Cells.Sum() * (i < 52 ? 1 : 0.985):F3}"));

        Assert.Equal((54, 6), At(Told(log, "pack-not-sum")));
    }

    [Fact]
    public void Leads_that_take_more_under_load_are_no_damage()
    {
        string log = Log($"{Header},pack [V]", _rows, (row, _) => FormattableString.Invariant($"{row.T},{row.I},{row.V},{row.Cells.Sum() + (0.03 * row.Amps):F3}"));

        Assert.Empty(Logs.ReadText(log).Problems);
    }

    [Fact]
    public void Parts_of_a_log_in_the_wrong_order_are_refused()
    {
        string log = Log(Header, _rows.Skip(100).Concat(_rows.Take(100)), (row, _) => $"{row.T},{row.I},{row.V}");

        ReadResult result = Logs.ReadText(log);

        Assert.Equal(("time-backwards", 82), (result.Problems[0].Code, result.Problems[0].Line));
        Assert.Empty(result.Sessions);
    }

    [Fact]
    public void A_current_of_the_charger_and_one_of_the_load_are_two_currents()
    {
        string log = Log("time [s],charger A,load A,cell 1 [V],cell 2 [V],cell 3 [V]", Of(120, 10, 3.8, i => (i / 20 % 3) switch { 0 => 0, 1 => 4, _ => -6 }), (row, _) => FormattableString.Invariant($"{row.T},{Math.Max(row.Amps, 0):F2},{Math.Max(-row.Amps, 0):F2},{row.V}"));

        Assert.Equal("ambiguous-current", Logs.ReadText(log).Problems[0].Code);
    }

    private static InputProblem Told(string log, string code)
    {
        ReadResult result = Logs.ReadText(log);
        Assert.False(result.Refused);
        return Assert.Single(result.Problems, problem => problem.Code == code);
    }

    private static (int? Line, int? Column) At(InputProblem problem) => (problem.Line, problem.Column);
}
