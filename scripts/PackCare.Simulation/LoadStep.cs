namespace PackCare.Simulation;

/// <summary>A stretch of constant current.</summary>
/// <param name="Seconds">How long, in seconds.</param>
/// <param name="Amperes">Current into the pack in amperes; a load is negative.</param>
public readonly record struct LoadStep(double Seconds, double Amperes);
