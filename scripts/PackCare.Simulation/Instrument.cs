namespace PackCare.Simulation;

/// <summary>How a station sees a pack: its interval, resolution, noise and errors of gain and offset.</summary>
public sealed record Instrument
{
    /// <summary>Time between samples in seconds, a whole multiple of the simulation step.</summary>
    public double IntervalSeconds { get; init; } = 5;

    /// <summary>Resolution of voltages in volts.</summary>
    public double VoltResolution { get; init; } = 0.001;

    /// <summary>Standard deviation of the noise of a cell's voltage in volts.</summary>
    public double VoltNoise { get; init; } = 0.0004;

    /// <summary>Constant error of each cell's channel in volts, first cell first; cells beyond it have none.</summary>
    public IReadOnlyList<double> VoltOffsets { get; init; } = [];

    /// <summary>Resolution of current in amperes.</summary>
    public double AmpereResolution { get; init; } = 0.01;

    /// <summary>Standard deviation of the noise of current in amperes.</summary>
    public double AmpereNoise { get; init; } = 0.004;

    /// <summary>Shown over true current; the charge counter shares it.</summary>
    public double AmpereGain { get; init; } = 1;

    /// <summary>Resolution of temperature in kelvins.</summary>
    public double CelsiusResolution { get; init; } = 0.1;

    /// <summary>Standard deviation of the noise of temperature in kelvins.</summary>
    public double CelsiusNoise { get; init; } = 0.04;

    /// <summary>An instrument that shows the truth.</summary>
    public static Instrument Perfect { get; } = new()
    {
        IntervalSeconds = 1,
        VoltResolution = 0,
        VoltNoise = 0,
        AmpereResolution = 0,
        AmpereNoise = 0,
        CelsiusResolution = 0,
        CelsiusNoise = 0,
    };

    /// <summary>Rounds to a resolution.</summary>
    /// <param name="value">A value.</param>
    /// <param name="resolution">In its unit; 0 leaves it as it is.</param>
    public static double Rounded(double value, double resolution) =>
        resolution > 0 ? Math.Round(value / resolution, MidpointRounding.AwayFromZero) * resolution : value;
}
