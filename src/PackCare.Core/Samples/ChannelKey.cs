namespace PackCare.Core.Samples;

/// <summary>Names one channel of a session.</summary>
/// <param name="Kind">What it measures.</param>
/// <param name="Index">The cell or sensor number from 1; 0 where the kind has only one channel.</param>
public readonly record struct ChannelKey(ChannelKind Kind, int Index)
{
    /// <summary>Time since the session's start.</summary>
    public static ChannelKey Time { get; } = new(ChannelKind.Time, 0);

    /// <summary>Pack voltage.</summary>
    public static ChannelKey PackVoltage { get; } = new(ChannelKind.PackVoltage, 0);

    /// <summary>Current, charging positive.</summary>
    public static ChannelKey Current { get; } = new(ChannelKind.Current, 0);

    /// <summary>Logged charge counter.</summary>
    public static ChannelKey Charge { get; } = new(ChannelKind.Charge, 0);

    /// <summary>Logged energy counter.</summary>
    public static ChannelKey Energy { get; } = new(ChannelKind.Energy, 0);

    /// <summary>Voltage of one cell.</summary>
    /// <param name="cell">The cell number from 1.</param>
    public static ChannelKey Cell(int cell) => new(ChannelKind.CellVoltage, cell);

    /// <summary>A temperature sensor.</summary>
    /// <param name="sensor">The sensor number from 1.</param>
    public static ChannelKey Temperature(int sensor) => new(ChannelKind.Temperature, sensor);

    /// <summary>Resistance of one cell as the instrument stated it.</summary>
    /// <param name="cell">The cell number from 1.</param>
    public static ChannelKey CellResistance(int cell) => new(ChannelKind.CellResistance, cell);
}
