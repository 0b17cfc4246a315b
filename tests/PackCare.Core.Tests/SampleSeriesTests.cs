using PackCare.Core.Samples;

namespace PackCare.Core.Tests;

public sealed class SampleSeriesTests
{
    [Fact]
    public void Channels_are_found_by_key_and_listed_in_order()
    {
        var series = new SampleSeries([Channel(ChannelKey.Cell(2)), Channel(ChannelKey.Current), Channel(ChannelKey.Cell(1)), Channel(ChannelKey.Time)]);

        Assert.Equal(3, series.Count);
        Assert.Equal(2, series.CellCount);
        Assert.Equal([ChannelKey.Time, ChannelKey.Cell(1), ChannelKey.Cell(2), ChannelKey.Current], series.Channels.Select(channel => channel.Key));
        Assert.Equal([1.0, 2.0, 3.0], series.TimeSeconds());
        Assert.Equal([1.0, 2.0, 3.0], series.Values(ChannelKey.Current)!);
        Assert.Null(series.Values(ChannelKey.PackVoltage));
        Assert.Null(series[ChannelKey.Energy]);
    }

    [Fact]
    public void Samples_without_cells_are_samples() =>
        Assert.Equal(0, new SampleSeries([Channel(ChannelKey.Time), Channel(ChannelKey.PackVoltage)]).CellCount);

    [Fact]
    public void Samples_need_time() =>
        Assert.Throws<ArgumentException>(() => new SampleSeries([Channel(ChannelKey.Current)]));

    [Fact]
    public void All_channels_are_of_one_length() =>
        Assert.Throws<ArgumentException>(() => new SampleSeries([Channel(ChannelKey.Time), Channel(ChannelKey.Current, 2)]));

    [Fact]
    public void A_channel_comes_once() =>
        Assert.Throws<ArgumentException>(() => new SampleSeries([Channel(ChannelKey.Time), Channel(ChannelKey.Time)]));

    [Fact]
    public void No_cell_is_skipped() =>
        Assert.Throws<ArgumentException>(() => new SampleSeries([Channel(ChannelKey.Time), Channel(ChannelKey.Cell(1)), Channel(ChannelKey.Cell(3))]));

    private static Channel Channel(ChannelKey key, int rows = 3)
    {
        var writer = new ChannelWriter(key);
        for (int i = 1; i <= rows; i++)
        {
            writer.TryAppend(i, 0);
        }

        return writer.ToChannel();
    }
}
