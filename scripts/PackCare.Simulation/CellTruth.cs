namespace PackCare.Simulation;

/// <summary>What a cell truly is at one moment; never seen by any estimator.</summary>
/// <param name="CapacityAh">Charge between 0 and 100 % of its curve, in ampere hours.</param>
/// <param name="OhmicOhms">R0 at 25 degrees Celsius in ohms, mid charge.</param>
/// <param name="SlowOhms">R1 at 25 degrees Celsius in ohms.</param>
/// <param name="SlowSeconds">Time constant of R1 in seconds.</param>
/// <param name="StateOfCharge">State of charge, 0 to 1 (a little below 0 once over-discharged).</param>
/// <param name="RestVolts">Rest voltage at that state of charge, in volts.</param>
public readonly record struct CellTruth(double CapacityAh, double OhmicOhms, double SlowOhms, double SlowSeconds, double StateOfCharge, double RestVolts)
{
    /// <summary>What a current step shows this long after it, at 25 degrees Celsius, in ohms: R0 + R1 (1 - exp(-lag / tau)).</summary>
    /// <param name="lagSeconds">Time after the step in seconds, not negative.</param>
    public double StepOhms(double lagSeconds) => OhmicOhms + (SlowOhms * (1 - Math.Exp(-lagSeconds / SlowSeconds)));
}
