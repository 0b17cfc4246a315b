namespace PackCare.Cli.Demo;

/// <summary>A spot check of the demo: volts, degrees Celsius, milliohms.</summary>
internal sealed record FleetSpotCheck(string Pack, DateTimeOffset At, IReadOnlyList<double> Volts, double? Celsius, IReadOnlyList<double>? Milliohms);
