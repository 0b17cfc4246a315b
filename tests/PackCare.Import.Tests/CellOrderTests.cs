using System.Globalization;
using PackCare.Core.Reading;
using PackCare.Core.Samples;

namespace PackCare.Import.Tests;

/// <summary>Which cell a column is of, where headers number cells by words or letters, or not at all. The logs are invented: three cells of 3.708, 3.704 and 3.700 V in the order of their columns.</summary>
public class CellOrderTests
{
    [Theory]
    [InlineData("third cell (V)", "second cell (V)", "first cell (V)")]
    [InlineData("cell three [V]", "cell two [V]", "cell one [V]")]
    [InlineData("dritte Zelle (V)", "zweite Zelle (V)", "erste Zelle (V)")]
    [InlineData("Zelle drei (V)", "Zelle zwei (V)", "Zelle eins (V)")]
    [InlineData("troisième cellule (V)", "deuxième cellule (V)", "première cellule (V)")]
    [InlineData("tercera celda (V)", "segunda celda (V)", "primera celda (V)")]
    [InlineData("cell C (V)", "cell B (V)", "cell A (V)")]
    [InlineData("foo3 (V)", "foo2 (V)", "foo1 (V)")]
    public void Words_and_letters_number_the_cells(string one, string two, string three)
    {
        ReadResult result = Read(one, two, three);

        Assert.Equal([3.700m, 3.704m, 3.708m], First(result));
        Assert.DoesNotContain(result.Problems, problem => problem.Code == "cells-by-place");
    }

    [Theory]
    [InlineData("left cell (V)", "middle cell (V)", "right cell (V)")]
    [InlineData("gamma (V)", "beta (V)", "alpha (V)")]
    public void Words_that_say_no_number_leave_the_order_of_the_columns_and_a_notice_says_so(string one, string two, string three)
    {
        ReadResult result = Read(one, two, three);

        Assert.Equal([3.708m, 3.704m, 3.700m], First(result));
        Assert.Contains(result.Problems, problem => problem.Code == "cells-by-place");
    }

    [Fact]
    public void A_first_second_is_no_second_cell() =>
        Assert.Equal(ColumnMeaning.ElapsedTime, Read("cell 1 (V)", "cell 2 (V)", "cell 3 (V)", time: "second").Reading!.Columns[0].Meaning);

    private static IEnumerable<decimal?> First(ReadResult result) => Enumerable.Range(1, 3).Select(cell => result.Sessions[0].Samples[ChannelKey.Cell(cell)]!.ToDecimals().First());

    private static ReadResult Read(string one, string two, string three, string time = "time_s")
    {
        var rows = Enumerable.Range(0, 24).Select(row => string.Create(CultureInfo.InvariantCulture, $"{row * 10},2.00,{3.708 + (0.006 * row):F3},{3.704 + (0.006 * row):F3},{3.7 + (0.006 * row):F3}"));
        ReadResult result = Logs.ReadText($"{time},current_a,{one},{two},{three}\n{string.Join('\n', rows)}\n");
        Assert.False(result.Refused, string.Join("\n", result.Problems));
        return result;
    }
}
