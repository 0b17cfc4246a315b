using System.Globalization;

namespace PackCare.Store.Tables;

/// <summary>A moment as two columns: UTC text whose order is the order of time, and the offset in minutes it was given in.</summary>
internal static class Instant
{
    private const string Format = "yyyy-MM-dd'T'HH:mm:ss.fffffff'Z'";

    public static string Utc(DateTimeOffset moment) => moment.UtcDateTime.ToString(Format, CultureInfo.InvariantCulture);

    public static long OffsetMinutes(DateTimeOffset moment) => (long)moment.Offset.TotalMinutes;

    /// <exception cref="InvalidDataException">The columns hold no moment.</exception>
    public static DateTimeOffset Parse(string utc, long offsetMinutes)
    {
        try
        {
            DateTime moment = DateTime.ParseExact(utc, Format, CultureInfo.InvariantCulture, DateTimeStyles.AdjustToUniversal | DateTimeStyles.AssumeUniversal);
            return new DateTimeOffset(moment).ToOffset(TimeSpan.FromMinutes(offsetMinutes));
        }
        catch (Exception error) when (error is FormatException or ArgumentException or OverflowException)
        {
            throw new InvalidDataException($"the time '{utc}' with offset {offsetMinutes} min is none", error);
        }
    }
}
