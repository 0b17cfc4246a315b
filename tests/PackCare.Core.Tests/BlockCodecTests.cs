using CsCheck;
using PackCare.Core.Samples;

namespace PackCare.Core.Tests;

public sealed class BlockCodecTests
{
    private static readonly long[] Edges = [BlockCodec.Missing, long.MinValue + 1, long.MaxValue, 0, -1];

    private static readonly Gen<long> AnyValue = Gen.Frequency(
        (6, Gen.Long[-5000, 5000]),
        (2, Gen.Long),
        (1, Gen.Int[0, Edges.Length - 1].Select(i => Edges[i])));

    private static readonly Gen<long[]> AnyValues = AnyValue.Array[1, 400];

    [Fact]
    public void Any_values_come_back_exactly() => Gen.Select(AnyValues, Gen.Int[0, BlockCodec.MaxDecimals]).Sample((values, decimals) =>
    {
        SampleBlock block = BlockCodec.Encode(values, decimals);
        var back = new long[values.Length];

        Assert.Equal(decimals, BlockCodec.Decode(block, back));
        Assert.Equal(values, back);
        Assert.Equal(values.Length, block.Count);
    });

    // What logs are like: long runs of small steps, now and then a jump or readings left out.
    [Fact]
    public void A_slow_channel_with_jumps_and_gaps_comes_back_exactly() =>
        Gen.Select(Gen.Frequency((40, Gen.Long[-64, 63]), (1, Gen.Long[-1_000_000, 1_000_000]), (1, Gen.Const(BlockCodec.Missing))).Array[1, 900], Gen.Long[-5000, 5000]).Sample((steps, level) =>
        {
            long[] values = [.. steps.Select(step => step == BlockCodec.Missing ? step : level += step)];
            long[] full = [.. values.Where(value => value != BlockCodec.Missing).DefaultIfEmpty(level)];
            var back = new long[values.Length];

            BlockCodec.Decode(BlockCodec.Encode(values, 3), back);
            Assert.Equal(values, back);
            BlockCodec.Decode(BlockCodec.Encode(full, 3), back);
            Assert.Equal(full, back[..full.Length]);
        });

    [Fact]
    public void The_same_values_make_the_same_bytes() => AnyValues.Sample(values =>
        Assert.True(BlockCodec.Encode(values, 3).Encoded.Span.SequenceEqual(BlockCodec.Encode(values, 3).Encoded.Span)));

    [Fact]
    public void A_block_written_by_hand_from_the_documented_layout_is_read()
    {
        // Written by hand from the documented layout: 3701, 3702, missing, 3699 at three decimals, in a Brotli stream
        // of one uncompressed meta-block (RFC 7932, section 9.2), so that no encoder of ours takes part.
        byte[] kept = Convert.FromHexString("01" + "03" + "600010" + "04" + "01" + "04" + "EA39" + "02" + "05" + "03");
        var back = new long[4];

        Assert.Equal(3, BlockCodec.Decode(new SampleBlock(4, kept), back));
        Assert.Equal([3701, 3702, BlockCodec.Missing, 3699], back);
    }

    [Fact]
    public void A_block_of_half_bytes_written_by_hand_from_the_documented_layout_is_read()
    {
        // 3701, 3702, 3694, 3694, 3600 at three decimals: codes 7402 alone, then 2, 15 + 0, 0, 15 + 172, of which two go behind.
        byte[] kept = Convert.FromHexString("02" + "03" + "800010" + "05" + "00" + "EA39" + "F2" + "F0" + "00" + "AC01" + "03");
        var back = new long[5];

        Assert.Equal(3, BlockCodec.Decode(new SampleBlock(5, kept), back));
        Assert.Equal([3701, 3702, 3694, 3694, 3600], back);
    }

    // Of every length, and with every size of step that has a form of its own, in stretches that begin at any place.
    [Theory]
    [InlineData(7, 0)]
    [InlineData(7, 8)]
    [InlineData(7, 63)]
    [InlineData(7, 64)]
    [InlineData(7, 5000)]
    [InlineData(63, 0)]
    [InlineData(64, 1_000_000)]
    public void Steps_of_every_size_come_back_exactly(int usual, int rare) =>
        Gen.Select(Gen.Frequency((12, Gen.Int[-usual, usual]), (1, Gen.Int[-rare, rare])).Array[1, 2200], Gen.OneOf(Gen.Long[-5000, 5000], Gen.Const(1L << 52), Gen.Const(-(1L << 53)), Gen.Const(1L << 60))).Sample((steps, level) =>
        {
            long[] values = [.. steps.Select(step => level += step)];
            SampleBlock block = BlockCodec.Encode(values, 3);
            var back = new long[values.Length];
            var fractions = new double[values.Length];

            BlockCodec.Decode(block, back);
            BlockCodec.Decode(block, 1, fractions);
            Assert.Equal(values, back);
            Assert.Equal(values.Select(value => value / 1000.0), fractions);

            // Divided by what is no whole number, and only the first of them.
            BlockCodec.Decode(block, 0.3, fractions);
            Assert.Equal(values.Select(value => value / (1000.0 / 0.3)), fractions);
            int few = (values.Length + 1) / 2;
            BlockCodec.Decode(block, 1, fractions.AsSpan(0, few));
            Assert.Equal(values.Take(few).Select(value => value / 1000.0), fractions.Take(few));
        }, iter: 300);

    // The compiler's own division is what they have to equal, bit for bit.
    [Fact]
    public void Fractions_are_rounded_as_division_rounds() =>
        Gen.Select(Gen.OneOf(Gen.Long[-100_000, 100_000], Gen.Long[-(1L << 53), 1L << 53], Gen.Long).Array[4, 64], Gen.Int[0, BlockCodec.MaxDecimals], Gen.Int[0, 4].Select(i => ((double[])[1, 0.001, 1000, 0.25, 1 / 3.0])[i])).Sample((values, decimals, factor) =>
        {
            double divisor = Math.Pow(10, decimals) / factor;
            var fractions = new double[values.Length];

            BlockCodec.ToDoubles(values, divisor, fractions);
            Assert.Equal(values.Select(value => value == BlockCodec.Missing ? double.NaN : value / divisor), fractions);
        }, iter: 20_000);

    [Fact]
    public void The_largest_block_of_the_wildest_values_comes_back()
    {
        var random = new Random(7);
        var values = new long[Channel.BlockRows];
        for (int i = 0; i < values.Length; i++)
        {
            values[i] = i % 2 == 0 ? long.MaxValue - random.Next() : long.MinValue + 1 + random.Next();
        }

        var back = new long[values.Length];
        BlockCodec.Decode(BlockCodec.Encode(values, 0), back);

        Assert.Equal(values, back);
    }

    [Fact]
    public void A_quiet_channel_takes_less_than_a_twentieth_of_its_numbers()
    {
        long[] values = [.. Enumerable.Range(0, Channel.BlockRows).Select(i => 3700L + (i / 500 % 3))];

        Assert.True(BlockCodec.Encode(values, 3).Encoded.Length < values.Length * sizeof(long) / 20);
    }

    [Fact]
    public void Damaged_bytes_are_refused_or_read_but_never_crash() =>
        Gen.Select(AnyValues, Gen.Int[0, int.MaxValue], Gen.Byte, Gen.Int[0, 3]).Sample((values, where, noise, how) =>
        {
            SampleBlock block = BlockCodec.Encode(values, 2);
            byte[] bytes = block.Encoded.ToArray();
            int count = block.Count;
            switch (how)
            {
                case 0:
                    bytes[where % bytes.Length] ^= (byte)Math.Max((byte)1, noise);
                    break;
                case 1:
                    bytes = bytes[..(where % bytes.Length)];
                    break;
                case 2:
                    bytes = [.. bytes, noise];
                    break;
                default:
                    count = (where % Channel.BlockRows) + 1;
                    break;
            }

            AssertDecodesOrRefuses(new SampleBlock(count, bytes));
        }, iter: 5000);

    [Fact]
    public void Noise_is_refused_or_read_but_never_crashes() =>
        Gen.Select(Gen.Byte.Array[0, 200], Gen.Int[1, 500]).Sample((noise, count) =>
        {
            AssertDecodesOrRefuses(new SampleBlock(count, noise));
            AssertDecodesOrRefuses(new SampleBlock(count, (byte[])[1, 3, .. noise]));
            AssertDecodesOrRefuses(new SampleBlock(count, (byte[])[2, 3, .. noise]));
        }, iter: 5000);

    [Theory]
    [InlineData(0)]
    [InlineData(-1)]
    [InlineData(Channel.BlockRows + 1)]
    public void A_count_that_no_block_has_is_refused(int count) =>
        Assert.Throws<InvalidDataException>(() => BlockCodec.Decode(new SampleBlock(count, BlockCodec.Encode([1, 2, 3], 0).Encoded.ToArray()), new long[3]));

    [Fact]
    public void A_later_version_of_the_bytes_is_refused()
    {
        byte[] bytes = BlockCodec.Encode([1, 2, 3], 0).Encoded.ToArray();
        bytes[0] = 3;

        Assert.Throws<InvalidDataException>(() => BlockCodec.Decode(new SampleBlock(3, bytes), new long[3]));
    }

    [Fact]
    public void What_cannot_be_a_block_is_a_bug_of_the_caller()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => BlockCodec.Encode([], 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => BlockCodec.Encode(new long[Channel.BlockRows + 1], 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => BlockCodec.Encode([1], -1));
        Assert.Throws<ArgumentOutOfRangeException>(() => BlockCodec.Encode([1], BlockCodec.MaxDecimals + 1));
    }

    private static void AssertDecodesOrRefuses(SampleBlock block)
    {
        try
        {
            BlockCodec.Decode(block, new long[block.Count]);
        }
        catch (InvalidDataException)
        {
        }
    }
}
