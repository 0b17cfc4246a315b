namespace PackCare.Import.Tests;

/// <summary>
/// What a generated log leaves open, so that no reader could prove it: each is a condition on what was written, not on what the reader said.
/// Anything else has to come back identical.
/// </summary>
internal static class Undecidable
{
    // A counter that moved by fewer digits could be any column that hardly changes.
    private const int LeastDigitsCounted = 4;

    // Whole numbers up to this as A stay within what a cell can do at these voltage steps, and so they do as mA.
    private const int MostOpenCurrent = 60;

    /// <summary>Whether a log may be refused with a code.</summary>
    internal static bool MayRefuse(GeneratedSession session, LogWriter writer, string code) => code switch
    {
        "ambiguous-current" => HasNoNames(writer) && DigitsCounted(session) < LeastDigitsCounted,
        "ambiguous-unit" => HasNoUnits(writer) && writer.Milli && session.MilliAmperes.Max(Math.Abs) <= MostOpenCurrent,
        "ambiguous-time" when HasNoNames(writer) && CountsRows(session) => true,
        "ambiguous-time" => writer.TimeForm is 0 or 1 && (MayBeClockDigits(session, writer) || TemperatureRisesAsTimeDoes(session, writer)),
        _ => false,
    };

    /// <summary>Whether the charge may be left out, if a notice says so.</summary>
    internal static bool MayLeaveOutCharge(GeneratedSession session, LogWriter writer, string[] told) =>
        (HasNoNames(writer) && (DigitsCounted(session) < LeastDigitsCounted || CountsRows(session)) && told.Contains("left-out")) || (HasNoUnits(writer) && DigitsCounted(session) <= 1 && told.Contains("charge-unit"));

    /// <summary>Whether the temperature may be left out, if a notice says so: without a header it may by chance follow the integral of the current.</summary>
    internal static bool MayLeaveOutTemperature(LogWriter writer, string[] told) => HasNoNames(writer) && told.Contains("counter-or-temperature");

    private static bool HasNoNames(LogWriter writer) => writer.Header < 0 && writer.UnitBehind is null;

    private static bool HasNoUnits(LogWriter writer) => writer.UnitBehind is null && (writer.Header < 0 || (writer.BareHeader && !writer.HasUnitRow));

    // A counter that goes on by the same with each row looks like the number of the row.
    private static bool CountsRows(GeneratedSession session) =>
        session.ChargeMilliAmpereHours.Zip(session.ChargeMilliAmpereHours.Skip(1), (a, b) => Math.Abs(b - a)).Distinct().Count() == 1;

    private static int DigitsCounted(GeneratedSession session) => session.ChargeMilliAmpereHours.Zip(session.ChargeMilliAmpereHours.Skip(1), (a, b) => Math.Abs(b - a)).Sum();

    // 0, 100, 200 and on: seconds, milliseconds, or hours, minutes and seconds without colons, where no counter tells.
    private static bool MayBeClockDigits(GeneratedSession session, LogWriter writer) => HasNoUnits(writer) && (writer.Layout == 1 || DigitsCounted(session) < LeastDigitsCounted)
        && session.TimeSeconds.Select(time => time * (writer.TimeForm == 1 ? 1000L : 1)).All(time => time % 100 < 60 && time / 100 % 100 < 60 && time < 240_000);

    // Two columns of even steps without names, and a counter too coarse to tell over which of them it adds up.
    private static bool TemperatureRisesAsTimeDoes(GeneratedSession session, LogWriter writer) =>
        HasNoNames(writer) && DigitsCounted(session) < 2 * LeastDigitsCounted && session.TenthsCelsius.Zip(session.TenthsCelsius.Skip(1), (a, b) => b > a).Count(rises => rises) >= 0.9 * (session.Rows - 1);
}
