using System.Globalization;
using System.Text;
using PackCare.Core.Reading;

namespace PackCare.Import.Tests;

/// <summary>A pack voltage that for one row is not the sum of the cells. The log is invented: four cells of 5 mOhm behind leads of 4 mOhm, in which one sample alone sees the whole load.</summary>
public class PackVoltageTests
{
    [Fact]
    public void Leads_that_take_their_part_of_a_load_that_one_sample_alone_has_seen_are_not_pointed_at() =>
        Assert.DoesNotContain(Read(0).Problems, problem => problem.Code == "pack-not-sum");

    [Theory]
    [InlineData(0.2)]
    [InlineData(-0.4)]
    public void A_pack_voltage_that_is_damaged_in_one_row_is_pointed_at(double volts) =>
        Assert.Equal(32, Assert.Single(Read(volts).Problems, problem => problem.Code == "pack-not-sum").Line);

    [Fact]
    public void A_cell_without_a_reading_beside_such_a_row_does_no_harm() =>
        Assert.DoesNotContain(Read(0, without: 39).Problems, problem => problem.Level == ProblemLevel.Refusal);

    private static ReadResult Read(double damage, int without = -1)
    {
        var text = new StringBuilder("time_s,current_a,pack_v,cell1_v,cell2_v,cell3_v,cell4_v\n");
        for (int row = 0; row < 60; row++)
        {
            double amps = row < 40 ? -5 : row == 40 ? -24 : 0;
            double[] cells = [.. Enumerable.Range(0, 4).Select(cell => Math.Round(3.8 + (0.004 * cell) - (0.001 * Math.Min(row, 40)) + (0.005 * amps), 3))];
            double pack = cells.Sum() + (0.004 * amps) + (row == 30 ? damage : 0);
            text.Append(CultureInfo.InvariantCulture, $"{row},{amps:F2},{pack:F3},").AppendJoin(',', cells.Select((cell, c) => row == without && c == 1 ? "" : cell.ToString("F3", CultureInfo.InvariantCulture))).Append('\n');
        }

        ReadResult result = Logs.ReadText(text.ToString());
        Assert.False(result.Refused, string.Join("\n", result.Problems));
        return result;
    }
}
