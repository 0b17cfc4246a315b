namespace PackCare.Simulation;

/// <summary>How a charger goes about it: constant current, then constant voltage until the current has faded.</summary>
public sealed record ChargePlan
{
    /// <summary>Current of the first part in amperes.</summary>
    public required double Amperes { get; init; }

    /// <summary>End voltage a cell in volts.</summary>
    public required double EndVolts { get; init; }

    /// <summary>Current at which the charge counts as done, in amperes.</summary>
    public required double EndAmperes { get; init; }

    /// <summary>
    /// Current that the balancer leads past a cell in amperes; 0 for a charger without one. With a balancer the highest cell
    /// is held at the end voltage; without one, only the pack is, and the cells end where they may.
    /// </summary>
    public double BleedAmperes { get; init; } = 0.25;

    /// <summary>Spread of the cells at which a balancer is content, in volts.</summary>
    public double BalancedVolts { get; init; } = 0.003;

    /// <summary>Time after which a charger stops in any case, in seconds.</summary>
    public double LongestSeconds { get; init; } = 3 * 3600;
}
