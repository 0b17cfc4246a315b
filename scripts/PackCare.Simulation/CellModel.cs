namespace PackCare.Simulation;

/// <summary>What a cell (or a group of parallel cells) is when new, and how it ages. All values at 25 degrees Celsius.</summary>
public sealed record CellModel
{
    /// <summary>Rest voltage against state of charge.</summary>
    public required RestCurve Curve { get; init; }

    /// <summary>Charge between 0 and 100 % of the curve when new, in ampere hours.</summary>
    public required double CapacityAh { get; init; }

    /// <summary>Ohmic resistance R0 in ohms, between 30 and 100 % charged; it rises towards empty.</summary>
    public required double OhmicOhms { get; init; }

    /// <summary>Resistance R1 of the slow RC pair in ohms.</summary>
    public required double SlowOhms { get; init; }

    /// <summary>Time constant of the slow RC pair in seconds.</summary>
    public double SlowSeconds { get; init; } = 30;

    /// <summary>Activation energy of both resistances in joules per mole (Arrhenius); 0 for none.</summary>
    public double ActivationJoulesPerMole { get; init; } = 13_000;

    /// <summary>Self-discharge as a fraction of the charge held, per 30 days.</summary>
    public double SelfDischargePerMonth { get; init; } = 0.015;

    /// <summary>Multiplies the ageing while stored (<see cref="Ageing"/>); 0 for none.</summary>
    public double StoredAgeing { get; init; } = 1;

    /// <summary>Capacity lost per equivalent full cycle, as a fraction of the capacity when new.</summary>
    public double FadePerCycle { get; init; } = 0.0003;

    /// <summary>Resistance gained per equivalent full cycle, as a fraction of the resistance when new.</summary>
    public double GrowthPerCycle { get; init; } = 0.0006;

    /// <summary>State of charge when new; shops deliver at about storage level.</summary>
    public double InitialStateOfCharge { get; init; } = 0.45;
}
