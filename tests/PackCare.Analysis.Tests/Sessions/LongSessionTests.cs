using CsCheck;
using PackCare.Analysis.Summaries;
using PackCare.Core.Samples;

namespace PackCare.Analysis.Tests.Sessions;

/// <summary>A session that is longer than what is held in memory at once is read as one that is not.</summary>
public class LongSessionTests
{
    private const int Rows = (2 * SampleColumn.PageRows) + 4321;

    [Fact]
    public void Samples_asked_for_anywhere_are_those_of_the_channel()
    {
        Channel channel = Made(ChannelKey.Current, row => row % 97 == 0 ? null : (row * 7919L % 20_011) - 10_000);
        double[] truth = channel.ToDoubles();
        SampleColumn column = SampleColumn.Of(channel)!;
        var random = new Random(3);
        for (int i = 0; i < 3000; i++)
        {
            int at = i % 3 == 0 ? Math.Clamp((random.Next(3) * SampleColumn.PageRows) + random.Next(-3, 3), 0, Rows - 1) : random.Next(Rows);
            Assert.Equal(truth[at], column[at]);
        }

        Assert.Throws<ArgumentOutOfRangeException>(() => column[Rows]);
        Assert.Throws<ArgumentOutOfRangeException>(() => column[-1]);
    }

    [Fact]
    public void Figures_of_a_column_are_those_of_its_readings()
    {
        Channel channel = Made(ChannelKey.Cell(1), row => row < 5 || row % 1001 == 0 ? null : 3000 + (row * 31L % 1201));
        double[] readings = [.. channel.ToDoubles().Where(double.IsFinite)];

        Assert.Equal(new ColumnFigures(readings.Length, readings[0], readings[^1], readings.Min(), readings.Max(), 0.031), SampleColumn.Of(channel)!.Figures);
    }

    [Fact]
    public void A_rank_is_that_of_the_sorted_readings() => Gen.Select(Gen.Double[-5, 5].Array[1, 300], Gen.Int[1, 40], Gen.Int[0, 299]).Sample((values, repeats, rank) =>
    {
        double[] all = [.. Enumerable.Repeat(values, repeats).SelectMany(some => some), double.NaN];
        double[] sorted = [.. all.Where(double.IsFinite).Order()];
        var column = new SampleColumn(all.Length, (page, into) => all.AsSpan(page * SampleColumn.PageRows).CopyTo(into));

        Assert.Equal(sorted[rank % sorted.Length], Ranks.Of(column, rank % sorted.Length));
        Assert.Equal(MathNet.Numerics.Statistics.Statistics.Median(sorted), Ranks.Median(column));
    });

    [Fact]
    public void Charge_so_far_is_the_same_whichever_stretch_is_asked_for_first()
    {
        var samples = new SampleSeries(
        [
            Made(ChannelKey.Time, row => row * 1000L),
            Made(ChannelKey.Current, row => row % 1009 == 0 ? null : 2000 - (row * 13L % 4001)),
            Made(ChannelKey.Cell(1), row => 3700 + (row % 7)),
        ]);
        double[] seconds = samples.TimeSeconds();
        double[] amperes = samples.Values(ChannelKey.Current)!;
        var truth = new double[Rows];
        int last = -1;
        for (int i = 0; i < Rows; i++)
        {
            truth[i] = i == 0 ? 0 : truth[i - 1];
            if (double.IsFinite(amperes[i]))
            {
                truth[i] += last < 0 ? 0 : (amperes[last] + amperes[i]) / 2 * (seconds[i] - seconds[last]) / 3600;
                last = i;
            }
        }

        SampleColumn running = ChargeCount.Of(new SessionSamples(samples))!.RunningAh;

        foreach (int at in (int[])[Rows - 1, 0, SampleColumn.PageRows, 2 * SampleColumn.PageRows, SampleColumn.PageRows - 1, 1, Rows / 2])
        {
            Assert.Equal(truth[at], running[at], 1e-9);
        }
    }

    [Fact]
    public void The_summary_of_a_long_session_is_that_of_its_parts_put_together()
    {
        // An hour of charge, an hour of discharge, again and again; ten hours are less than a page, forty hours are three.
        SampleSeries Hours(int hours) => new(
        [
            Made(ChannelKey.Time, row => row * 1000L, hours * 3600),
            Made(ChannelKey.Current, row => row / 3600 % 2 == 0 ? 2000 : -2000, hours * 3600),
            Made(ChannelKey.PackVoltage, row => row / 3600 % 2 == 0 ? 7720 : 7680, hours * 3600),
            Made(ChannelKey.Cell(1), row => row / 3600 % 2 == 0 ? 3860 : 3840, hours * 3600),
            Made(ChannelKey.Cell(2), row => row / 3600 % 2 == 0 ? 3860 : 3840, hours * 3600),
        ]);
        Core.Sessions.SessionSummary shorter = SessionSummarizer.Summarize(Hours(10), Core.Packs.Chemistry.LiPo);
        Core.Sessions.SessionSummary longer = SessionSummarizer.Summarize(Hours(40), Core.Packs.Chemistry.LiPo);

        Assert.Equal(1.0, longer.IntervalSeconds);
        Assert.Equal(4, longer.ChargeInAh / shorter.ChargeInAh ?? 0, 0.01);
        Assert.Equal(4, longer.EnergyOutWh / shorter.EnergyOutWh ?? 0, 0.01);
        Assert.Equal(shorter.Cells[0].Resistance!.Ohms, longer.Cells[0].Resistance!.Ohms, 1e-6);
        Assert.True(longer.Cells[0].Resistance!.Count > 3 * shorter.Cells[0].Resistance!.Count);
    }

    private static Channel Made(ChannelKey key, Func<int, long?> scaled, int rows = Rows)
    {
        var writer = new ChannelWriter(key);
        for (int row = 0; row < rows; row++)
        {
            if (scaled(row) is { } value)
            {
                Assert.True(writer.TryAppend(value, 3));
            }
            else
            {
                writer.AppendMissing();
            }
        }

        return writer.ToChannel();
    }
}
