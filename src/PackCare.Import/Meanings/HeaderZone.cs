using System.Globalization;
using System.Text.RegularExpressions;

namespace PackCare.Import.Meanings;

/// <summary>The zone that the header of a time states: "Time (UTC)", "time_utc", "Time (UTC-05:00)", "Zeit (MEZ)".</summary>
internal static partial class HeaderZone
{
    /// <summary>The zone, of one offset throughout the year; null where the header states none.</summary>
    /// <param name="header">The header, or null.</param>
    internal static TimeZoneInfo? Of(string? header)
    {
        Match match = Form().Match(header ?? "");
        if (!match.Success)
        {
            return null;
        }

        string name = match.Groups[1].Value.ToUpperInvariant();
        int minutes = name switch
        {
            "MEZ" or "CET" => 60,
            "MESZ" or "CEST" => 120,
            _ when match.Groups[2].Success => (match.Groups[2].ValueSpan[0] == '-' ? -1 : 1)
                * ((60 * int.Parse(match.Groups[3].ValueSpan, CultureInfo.InvariantCulture)) + (match.Groups[4].Success ? int.Parse(match.Groups[4].ValueSpan, CultureInfo.InvariantCulture) : 0)),
            _ => 0,
        };
        return Math.Abs(minutes) > 14 * 60 ? null
            : minutes == 0 ? TimeZoneInfo.Utc
            : TimeZoneInfo.CreateCustomTimeZone(string.Create(CultureInfo.InvariantCulture, $"UTC{(minutes < 0 ? '-' : '+')}{Math.Abs(minutes) / 60:00}:{Math.Abs(minutes) % 60:00}"), TimeSpan.FromMinutes(minutes), null, null);
    }

    [GeneratedRegex(@"(?<![A-Za-z])(UTC|GMT|CET|CEST|MEZ|MESZ)(?:\s*([+-])(\d{1,2})(?::?(\d{2}))?)?(?![A-Za-z])", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Form();
}
