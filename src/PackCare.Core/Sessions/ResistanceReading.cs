namespace PackCare.Core.Sessions;

/// <summary>A resistance found within one session, at the temperature it had; not yet corrected to a reference.</summary>
/// <param name="Ohms">The resistance in ohms.</param>
/// <param name="StandardErrorOhms">One standard error in ohms, from resolution and scatter.</param>
/// <param name="Count">How many current steps (or instrument readings) it rests on.</param>
/// <param name="LagSeconds">
/// Time after the step at which the voltage was taken, in seconds. Values at unlike lags are unlike quantities
/// (IEC 61960 DC method) and are never mixed. 0 for an instrument's own reading.
/// </param>
/// <param name="Celsius">Mean temperature during the steps in degrees Celsius, or null where none was logged.</param>
public sealed record ResistanceReading(double Ohms, double StandardErrorOhms, int Count, double LagSeconds, double? Celsius);
