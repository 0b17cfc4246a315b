namespace PackCare.Bench;

/// <summary>One run of one program.</summary>
/// <param name="Seconds">Wall time from start to exit, in seconds.</param>
/// <param name="PeakMegabytes">Largest resident set, in 10^6 bytes; null where the system does not tell.</param>
/// <param name="OutputBytes">Size of what it left behind.</param>
internal sealed record Measurement(double Seconds, double? PeakMegabytes, long OutputBytes);
