using System.Globalization;

namespace PackCare.Cli.Hosting;

/// <summary>Reads moments and zones as users type them.</summary>
internal static class TimeInput
{
    private static readonly string[] _withOffset =
    [
        "yyyy-MM-dd'T'HH:mmzzz", "yyyy-MM-dd'T'HH:mm:sszzz", "yyyy-MM-dd'T'HH:mm:ss.FFFFFFFzzz",
        "yyyy-MM-dd HH:mmzzz", "yyyy-MM-dd HH:mm:sszzz",
    ];

    private static readonly string[] _local =
    [
        "yyyy-MM-dd", "yyyy-MM-dd'T'HH:mm", "yyyy-MM-dd'T'HH:mm:ss", "yyyy-MM-dd HH:mm", "yyyy-MM-dd HH:mm:ss",
    ];

    /// <summary>How a moment is to be written.</summary>
    public const string Advice = "write it like 2026-03-31, 2026-03-31T18:20, 2026-03-31T18:20+02:00 or 2026-03-31T16:20Z";

    /// <summary>Reads a moment; one without an offset is meant in the zone given. False where it is not a moment, or not one that the zone's clocks showed just once.</summary>
    public static bool TryMoment(string text, TimeZoneInfo zone, out DateTimeOffset moment)
    {
        string offset = text.EndsWith('Z') ? text[..^1] + "+00:00" : text;
        if (DateTimeOffset.TryParseExact(offset, _withOffset, CultureInfo.InvariantCulture, DateTimeStyles.None, out moment))
        {
            return true;
        }

        if (DateTime.TryParseExact(text, _local, CultureInfo.InvariantCulture, DateTimeStyles.None, out DateTime local)
            && !zone.IsInvalidTime(local) && !zone.IsAmbiguousTime(local))
        {
            moment = new DateTimeOffset(local, zone.GetUtcOffset(local));
            return true;
        }

        return false;
    }

    /// <summary>Finds a zone by its IANA (or, on Windows, its system) name; <c>UTC</c> always works.</summary>
    public static bool TryZone(string name, out TimeZoneInfo zone)
    {
        if (name.Equals("UTC", StringComparison.OrdinalIgnoreCase))
        {
            zone = TimeZoneInfo.Utc;
            return true;
        }

        bool found = TimeZoneInfo.TryFindSystemTimeZoneById(name, out TimeZoneInfo? known);
        zone = known ?? TimeZoneInfo.Utc;
        return found;
    }
}
