using System.Globalization;
using System.Text;
using PackCare.BigLog;

namespace PackCare.Simulation.Tests;

public class TheBigLog
{
    private const int Rows = 30_000;
    private static readonly Lazy<byte[]> Written = new(Write);
    private static readonly Lazy<double[][]> Values = new(() =>
    [
        .. Encoding.UTF8.GetString(Written.Value).TrimEnd('\n').Split('\n').Skip(1)
            .Select(line => line.Split(',').Select(field => double.Parse(field, CultureInfo.InvariantCulture)).ToArray()),
    ]);

    [Fact]
    public void It_has_as_many_rows_as_asked_for_one_a_second_in_eleven_columns()
    {
        Assert.Equal(Rows, Values.Value.Length);
        Assert.All(Values.Value, row => Assert.Equal(11, row.Length));
        Assert.Equal(Enumerable.Range(0, Rows).Select(second => (double)second), Values.Value.Select(row => row[0]));
    }

    [Fact]
    public void It_is_the_same_every_time() => Assert.Equal(Written.Value, Write());

    [Fact]
    public void Its_counter_is_the_integral_of_its_current_through_charge_and_discharge()
    {
        var integral = Values.Value.Sum(row => row[1]) / 3600;
        Assert.Equal(integral, Values.Value[^1][9], 0.005);
        Assert.Contains(Values.Value, row => row[1] > 4.9);
        Assert.Contains(Values.Value, row => row[1] < -14);
    }

    [Fact]
    public void Its_pack_voltage_is_the_sum_of_its_cells_and_the_drop_in_the_leads() =>
        Assert.All(Values.Value, row => Assert.Equal(row[3..9].Sum() + (0.004 * row[1]), row[2], 0.010));

    private static byte[] Write()
    {
        using var target = new MemoryStream();
        EnduranceLog.Write(target, Rows);
        return target.ToArray();
    }
}
