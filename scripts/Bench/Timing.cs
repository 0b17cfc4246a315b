namespace PackCare.Bench;

/// <summary>One run of a program.</summary>
/// <param name="Seconds">Wall time from start to exit, in seconds.</param>
/// <param name="PeakMegabytes">Largest resident set, in 10^6 bytes; null where it was not watched or the system does not tell.</param>
/// <param name="Printed">What it printed.</param>
internal sealed record Timing(double Seconds, double? PeakMegabytes, string Printed);
