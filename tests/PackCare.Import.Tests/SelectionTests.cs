using CsCheck;
using PackCare.Import.Meanings;

namespace PackCare.Import.Tests;

public class SelectionTests
{
    [Fact]
    public void A_value_is_selected_as_sorting_would_have_it() =>
        Gen.Select(Gen.OneOf(Gen.Double[-5, 5], Gen.Int[-3, 3].Select(whole => (double)whole), Gen.Const(double.PositiveInfinity)).Array[1, 500], Gen.Double[0, 1]).Sample((values, part) =>
        {
            int rank = (int)(part * (values.Length - 1));
            Assert.Equal(values.Order().ElementAt(rank), Selection.At(values.ToArray(), rank));
        });

    [Fact]
    public void Selecting_a_second_value_finds_it_among_the_moved_ones() =>
        Gen.Double[-5, 5].Array[1, 500].Sample(values =>
        {
            double[] moved = [.. values];
            Selection.At(moved, moved.Length / 10);
            Assert.Equal(values.Order().ElementAt(values.Length / 2), Selection.At(moved, moved.Length / 2));
        });
}
