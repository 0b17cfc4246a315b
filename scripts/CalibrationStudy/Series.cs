using PackCare.Core.Samples;
using PackCare.Simulation;

namespace PackCare.CalibrationStudy;

/// <summary>Hands a simulated log to the analysis as if it had been imported.</summary>
internal static class Series
{
    /// <summary>The samples at the resolution at which a station writes them.</summary>
    public static SampleSeries Of(SimulatedLog log) => new(
    [
        Channel(ChannelKey.Time, log.Seconds, 0),
        Channel(ChannelKey.PackVoltage, log.PackVolts, 3),
        Channel(ChannelKey.Current, log.Amperes, 2),
        Channel(ChannelKey.Charge, log.ChargeAh, 3),
        Channel(ChannelKey.Temperature(1), log.Celsius, 1),
        .. log.CellVolts.Select((volts, cell) => Channel(ChannelKey.Cell(cell + 1), volts, 3)),
    ]);

    private static Channel Channel(ChannelKey key, double[] values, int decimals)
    {
        var scale = decimals switch { 0 => 1, 1 => 10, 2 => 100, _ => 1000 };
        var writer = new ChannelWriter(key);
        foreach (var value in values)
        {
            writer.TryAppend((long)Math.Round(value * scale), decimals);
        }

        return writer.ToChannel();
    }
}
