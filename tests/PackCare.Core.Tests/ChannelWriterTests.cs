using CsCheck;
using PackCare.Core.Samples;

namespace PackCare.Core.Tests;

public sealed class ChannelWriterTests
{
    private static readonly Gen<(long Scaled, int Decimals)?> AnyReading = Gen.Frequency(
        (9, Gen.Select(Gen.Long[-9_000_000, 9_000_000], Gen.Int[0, 6], ((long, int)? (scaled, decimals) => (scaled, decimals)))),
        (1, Gen.Const(((long, int)?)null)));

    [Fact]
    public void Readings_of_any_and_mixed_decimals_come_back_as_the_same_figures() => AnyReading.Array[1, 300].Sample(readings =>
    {
        var writer = new ChannelWriter(ChannelKey.Current);
        foreach ((long Scaled, int Decimals)? reading in readings)
        {
            Append(writer, reading);
        }

        Channel channel = writer.ToChannel();

        Assert.Equal(readings.Length, channel.Count);
        Assert.Equal(readings.Select(Figure), channel.ToDecimals());
        Assert.Equal(readings.Select(reading => (double?)Figure(reading) ?? double.NaN), channel.ToDoubles());
    });

    [Fact]
    public void Readings_appended_in_runs_come_back_as_when_appended_one_by_one() =>
        Gen.Select(Gen.Select(Gen.Frequency((9, Gen.Long[-9_000_000, 9_000_000]), (1, Gen.Const(BlockCodec.Missing))).Array[1, 400], Gen.Int[0, 6]).Array[1, 8], Gen.Int[0, 2]).Sample((runs, longer) =>
        {
            var writer = new ChannelWriter(ChannelKey.Current);
            var truth = new List<decimal?>();
            if (longer == 2)
            {
                runs[^1].Item1 = [.. Enumerable.Range(0, 2 * Channel.BlockRows).Select(row => (long)(row % 7)), .. runs[^1].Item1];
            }

            if (longer == 1)
            {
                // Close to the end of a block, so that a run is cut by it.
                Assert.True(writer.TryAppend(new long[Channel.BlockRows - 150], 2));
                truth.AddRange(Enumerable.Repeat((decimal?)0, Channel.BlockRows - 150));
            }

            Channel? closed = null;
            for (int run = 0; run < runs.Length; run++)
            {
                (long[] scaled, int decimals) = runs[run];
                if (run < runs.Length - 1)
                {
                    Assert.True(writer.TryAppend(scaled, decimals));
                }
                else
                {
                    closed = writer.TryClose(scaled, decimals);
                }

                truth.AddRange(scaled.Select(value => value == BlockCodec.Missing ? null : (decimal?)new decimal(value) / (decimal)Math.Pow(10, decimals)));
            }

            Channel channel = Assert.IsType<Channel>(closed);
            Assert.Equal(truth.Count, channel.Count);
            Assert.Equal(truth, channel.ToDecimals());
            Assert.All(channel.Blocks.SkipLast(1), block => Assert.Equal(Channel.BlockRows, block.Count));
        }, iter: 40);

    [Fact]
    public void A_logged_decimal_becomes_the_very_double_that_its_text_denotes() => Gen.Select(Gen.Long[-99_999_999, 99_999_999], Gen.Int[0, 6]).Sample((scaled, decimals) =>
    {
        var writer = new ChannelWriter(ChannelKey.PackVoltage);
        writer.TryAppend(scaled, decimals);
        string text = new decimal(Math.Abs((int)scaled), 0, 0, scaled < 0, (byte)decimals).ToString(System.Globalization.CultureInfo.InvariantCulture);

        Assert.Equal(double.Parse(text, System.Globalization.CultureInfo.InvariantCulture), Assert.Single(writer.ToChannel().ToDoubles()));
    });

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(255)]
    [InlineData(256)]
    [InlineData(257)]
    [InlineData(Channel.BlockRows - 1)]
    [InlineData(Channel.BlockRows)]
    [InlineData(Channel.BlockRows + 1)]
    [InlineData((2 * Channel.BlockRows) + 10)]
    public void Every_block_but_the_last_is_full(int rows)
    {
        var writer = new ChannelWriter(ChannelKey.Time);
        for (int i = 0; i < rows; i++)
        {
            Assert.True(writer.TryAppend(i, 0));
        }

        Assert.Equal(rows, writer.Count);
        Channel channel = writer.ToChannel();
        Assert.Equal(rows, channel.Count);
        Assert.All(channel.Blocks.SkipLast(1), block => Assert.Equal(Channel.BlockRows, block.Count));
        Assert.Equal(Enumerable.Range(0, rows).Select(i => (double)i), channel.ToDoubles());
    }

    [Fact]
    public void Digits_that_do_not_fit_together_are_refused_and_nothing_is_appended()
    {
        var writer = new ChannelWriter(ChannelKey.Current);
        Assert.True(writer.TryAppend(long.MaxValue / 2, 0));

        Assert.False(writer.TryAppend(1, 1));
        Assert.False(writer.TryAppend(1, BlockCodec.MaxDecimals + 1));
        Assert.False(writer.TryAppend(BlockCodec.Missing, 0));
        Assert.Equal(1, writer.Count);

        Assert.True(writer.TryAppend(7, 0));
        Assert.Equal([long.MaxValue / 2, 7m], writer.ToChannel().ToDecimals());
    }

    [Fact]
    public void A_large_reading_after_fine_ones_is_refused_where_it_does_not_fit()
    {
        var writer = new ChannelWriter(ChannelKey.Current);
        Assert.True(writer.TryAppend(1_234_567, 6));

        Assert.False(writer.TryAppend(long.MaxValue / 1000, 0));
        Assert.True(writer.TryAppend(-5, 0));

        Assert.Equal([1.234567m, -5m], writer.ToChannel().ToDecimals());
    }

    [Fact]
    public void A_new_block_starts_with_the_digits_of_its_own_readings()
    {
        var writer = new ChannelWriter(ChannelKey.Current);
        writer.TryAppend(1, 15);
        for (int i = 1; i < Channel.BlockRows; i++)
        {
            writer.AppendMissing();
        }

        Assert.True(writer.TryAppend(long.MaxValue, 0));
    }

    [Fact]
    public void A_channel_of_nothing_but_missing_readings_stays_that()
    {
        var writer = new ChannelWriter(ChannelKey.Temperature(1));
        writer.AppendMissing();
        writer.AppendMissing();

        Channel channel = writer.ToChannel();

        Assert.Equal([null, null], channel.ToDecimals());
        Assert.All(channel.ToDoubles(), value => Assert.True(double.IsNaN(value)));
    }

    private static decimal? Figure((long Scaled, int Decimals)? reading) =>
        reading is { } given ? given.Scaled * new decimal(1, 0, 0, false, (byte)given.Decimals) : null;

    private static void Append(ChannelWriter writer, (long Scaled, int Decimals)? reading)
    {
        if (reading is { } given)
        {
            Assert.True(writer.TryAppend(given.Scaled, given.Decimals));
        }
        else
        {
            writer.AppendMissing();
        }
    }
}
