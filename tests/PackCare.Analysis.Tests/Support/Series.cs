using PackCare.Core.Samples;

namespace PackCare.Analysis.Tests.Support;

/// <summary>Makes samples from plain arrays, rounded as an instrument would.</summary>
internal static class Series
{
    public static SampleSeries Of(double[] seconds, double[]? amperes, double[][] cellVolts, double[]? packVolts = null, double[]? celsius = null, int voltDecimals = 3, int ampereDecimals = 2)
    {
        var channels = new List<Channel> { Channel(ChannelKey.Time, seconds, 1) };
        if (amperes is not null)
        {
            channels.Add(Channel(ChannelKey.Current, amperes, ampereDecimals));
        }

        if (packVolts is not null)
        {
            channels.Add(Channel(ChannelKey.PackVoltage, packVolts, voltDecimals));
        }

        if (celsius is not null)
        {
            channels.Add(Channel(ChannelKey.Temperature(1), celsius, 1));
        }

        channels.AddRange(cellVolts.Select((volts, i) => Channel(ChannelKey.Cell(i + 1), volts, voltDecimals)));
        return new SampleSeries(channels);
    }

    public static SampleSeries Of(PackCare.Simulation.SimulatedLog log) =>
        Of(log.Seconds, log.Amperes, log.CellVolts, log.PackVolts, log.Celsius);

    private static Channel Channel(ChannelKey key, double[] values, int decimals)
    {
        var writer = new ChannelWriter(key);
        double power = Math.Pow(10, decimals);
        foreach (double value in values)
        {
            if (double.IsNaN(value))
            {
                writer.AppendMissing();
            }
            else
            {
                writer.TryAppend((long)Math.Round(value * power), decimals);
            }
        }

        return writer.ToChannel();
    }
}
