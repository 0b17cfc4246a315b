using PackCare.Core.Reading;
using PackCare.Core.Samples;
using static PackCare.Import.Tests.TestSession;

namespace PackCare.Import.Tests;

/// <summary>Which cell of which pack a header means.</summary>
public class HeaderPlaceTests
{
    [Theory]
    [InlineData("VA,VB,VC")]
    [InlineData("U_a [V],U_b [V],U_c [V]")]
    [InlineData("Pack 7 cell 1,Pack 7 cell 2,Pack 7 cell 3")]
    [InlineData("Akku 2 Zelle 1 (V),Akku 2 Zelle 2 (V),Akku 2 Zelle 3 (V)")]
    public void Letters_and_numbers_of_cells_count_whatever_else_is_numbered(string cells)
    {
        List<Row> rows = Charge();
        string log = Log($"time [s],current [A],{cells}", rows, (row, _) => $"{row.T},{row.I},{row.V}");

        SampleSeries samples = Assert.Single(Logs.ReadText(log).Sessions).Samples;

        Assert.Equal(rows.Select(row => row.Cells[2]), samples[ChannelKey.Cell(3)]!.ToDoubles(), (one, other) => Math.Abs(one - other) < 1e-9);
    }

    [Fact]
    public void Letters_out_of_order_number_the_cells()
    {
        string log = Log("time [s],current [A],VC,VB,VA", Charge(), (row, _) => $"{row.T},{row.I},{row.V}");

        Assert.Equal([3, 2, 1], Logs.ReadText(log).Reading!.Columns.Where(column => column.Meaning == ColumnMeaning.CellVoltage).Select(column => column.Cell ?? 0));
    }

    [Theory]
    [InlineData("A cell1,A cell2,A cell3,B cell1,B cell2,B cell3", 6)]
    [InlineData("Pack 1 cell 1,Pack 1 cell 2,Pack 1 cell 3,Pack 2 cell 1,Pack 2 cell 2,Pack 2 cell 3", 6)]
    public void Packs_side_by_side_are_refused_with_what_to_do(string cells, int column)
    {
        List<Row> others = Discharge();
        string log = Log($"time [s],current [A],{cells}", Charge(), (row, i) => $"{row.T},{row.I},{row.V},{others[i].V}");

        InputProblem problem = Assert.Single(Logs.ReadText(log).Problems);

        Assert.Equal(("duplicate-column", 1, column), (problem.Code, problem.Line, problem.Column));
        Assert.Contains("one file a pack", problem.Advice, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("ts", 1)]
    [InlineData("Длительность_min", 60)]
    public void Time_counts_from_nought_under_a_short_or_foreign_word(string header, double seconds)
    {
        List<Row> rows = Charge();
        string log = Log($"{header},current [A],cell 1 [V],cell 2 [V],cell 3 [V]", rows, (row, _) => FormattableString.Invariant($"{row.Seconds / seconds:0.######},{row.I},{row.V}"));

        Assert.Equal(rows[^1].Seconds, Assert.Single(Logs.ReadText(log).Sessions).Samples.TimeSeconds()[^1], 1e-3);
    }

    [Fact]
    public void A_year_of_two_digits_behind_a_day_above_twelve_is_read()
    {
        string log = Log("date,time,current [A],cell 1 [V],cell 2 [V],cell 3 [V]", Charge(), (row, _) => FormattableString.Invariant($"10/25/26,{new DateTime(2026, 10, 25, 9, 0, 0).AddSeconds(row.Seconds):HH:mm:ss},{row.I},{row.V}"));

        Assert.Equal(new DateTime(2026, 10, 25, 9, 0, 0), Assert.Single(Logs.ReadText(log).Sessions).Started.DateTime);
    }

    [Theory]
    [InlineData("25/10/26")]
    [InlineData("10/11/26")]
    public void A_year_of_two_digits_that_could_be_a_day_is_refused(string date)
    {
        string log = Log("date,time,current [A],cell 1 [V],cell 2 [V],cell 3 [V]", Charge(), (row, _) => FormattableString.Invariant($"{date},{new DateTime(2026, 10, 25, 9, 0, 0).AddSeconds(row.Seconds):HH:mm:ss},{row.I},{row.V}"));

        Assert.Equal("time-form", Logs.ReadText(log).Problems[0].Code);
    }
}
