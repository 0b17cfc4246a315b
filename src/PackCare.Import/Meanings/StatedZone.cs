using System.Globalization;
using System.Text.RegularExpressions;

namespace PackCare.Import.Meanings;

/// <summary>The zone that a log states for its times: in a header ("Time (UTC)", "time_utc", "Zeit (MEZ)"), or in a line around the table.</summary>
internal static partial class StatedZone
{
    // A quarter of an hour is the finest that zones differ by.
    private const int QuarterMinutes = 15;
    private const double SecondsApart = 2;
    private const int MostMinutes = 14 * 60;

    private static readonly string[] Keys =
    [
        "time zone", "timezone", "tz", "zone", "zeitzone", "fuseau", "fuseau horaire", "zona horaria", "huso horario", "fuso orario", "fuso horário", "fuso horario", "tijdzone", "tidszon", "tidssone", "tidszone",
        "strefa czasowa", "časové pásmo", "utc offset", "gmt offset", "offset utc", "offset from utc", "offset to utc", "utc versatz", "abweichung von utc",
    ];

    private static readonly string[] LocalWords = ["local", "local time", "lokal", "ortszeit", "locale", "locale time", "heure locale", "hora local", "ora locale", "lokale tijd", "system", "auto", "automatic", "default"];

    /// <summary>The zone, of one offset throughout the year; null where the header states none.</summary>
    /// <param name="header">The header, or null.</param>
    internal static TimeZoneInfo? Of(string? header) => Form().Match(header ?? "") is { Success: true } match ? Fixed(match) : null;

    /// <summary>The zone that a line of its own states: "Time zone: Europe/Lisbon", "UTC offset;+02:00", "All times in UTC".</summary>
    /// <param name="lines">The lines above and below the table, and comments within it.</param>
    /// <param name="unread">What stands where a zone is due and is not understood; null where nothing does.</param>
    internal static TimeZoneInfo? Of(IEnumerable<string> lines, out string? unread)
    {
        unread = null;
        foreach (string line in lines)
        {
            string text = line.Trim('#', '/', '%', ';', ',', '|', ' ', '\t', '"', '.');
            if (Sentence().Match(text) is { Success: true } said && Fixed(said) is { } zone)
            {
                return zone;
            }

            if (KeyAndValue().Match(text) is not { Success: true } pair || !Keys.Contains(pair.Groups[1].Value.Trim().Replace('_', ' ').Replace('-', ' ').ToLowerInvariant()))
            {
                continue;
            }

            string value = pair.Groups[2].Value.Trim(' ', '\t', '"', ';', ',', '|');
            if (Named(value) is { } named)
            {
                return named;
            }

            if (value.Length > 0 && !LocalWords.Contains(value.ToLowerInvariant()))
            {
                unread ??= value;
            }
        }

        return null;
    }

    /// <summary>The zone of a log whose first row and whose stated start with an offset are one moment; null where they are not.</summary>
    /// <param name="firstLocal">The first row's date and time.</param>
    /// <param name="startLocal">The start that a line states.</param>
    /// <param name="offsetMinutes">Its offset from UTC.</param>
    internal static TimeZoneInfo? OfStart(DateTime firstLocal, DateTime startLocal, int offsetMinutes)
    {
        TimeSpan offset = firstLocal - startLocal.AddMinutes(-offsetMinutes);
        int minutes = (int)Math.Round(offset.TotalMinutes / QuarterMinutes) * QuarterMinutes;
        return Math.Abs((offset - TimeSpan.FromMinutes(minutes)).TotalSeconds) <= SecondsApart && Math.Abs(minutes) <= MostMinutes ? OfMinutes(minutes) : null;
    }

    private static TimeZoneInfo? Named(string value)
    {
        string first = value.Split(' ', '(', ',', ';')[0];
        if (first.Contains('/', StringComparison.Ordinal) && TimeZoneInfo.TryFindSystemTimeZoneById(first, out TimeZoneInfo? known))
        {
            return known;
        }

        return BareOffset().Match(value) is { Success: true } bare ? Fixed(bare) : Of(value);
    }

    private static TimeZoneInfo? Fixed(Match match)
    {
        string name = match.Groups[1].Value.ToUpperInvariant();
        int minutes = name switch
        {
            "WEST" or "CET" or "MEZ" => 60,
            "CEST" or "MESZ" or "EET" => 120,
            "EEST" => 180,
            _ when match.Groups[2].Success => (match.Groups[2].ValueSpan[0] is '-' or '−' ? -1 : 1)
                * ((60 * int.Parse(match.Groups[3].ValueSpan, CultureInfo.InvariantCulture)) + (match.Groups[4].Success ? int.Parse(match.Groups[4].ValueSpan, CultureInfo.InvariantCulture) : 0)),
            _ => 0,
        };
        return Math.Abs(minutes) > MostMinutes ? null : OfMinutes(minutes);
    }

    private static TimeZoneInfo OfMinutes(int minutes) => minutes == 0
        ? TimeZoneInfo.Utc
        : TimeZoneInfo.CreateCustomTimeZone(string.Create(CultureInfo.InvariantCulture, $"UTC{(minutes < 0 ? '-' : '+')}{Math.Abs(minutes) / 60:00}:{Math.Abs(minutes) % 60:00}"), TimeSpan.FromMinutes(minutes), null, null);

    [GeneratedRegex(@"(?<![A-Za-z])(UTC|GMT|WET|WEST|CET|CEST|MEZ|MESZ|EET|EEST)(?:\s*([+\-−])(\d{1,2})(?::?(\d{2}))?)?(?![A-Za-z])", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Form();

    // "All times in UTC", "Zeiten: UTC+2"; no digits but those of the offset.
    [GeneratedRegex(@"^[^0-9]*(?<![\p{L}])(?:times?|timestamps?|clocks?|zeit|zeiten|zeitstempel|zeitangaben|uhrzeit|uhrzeiten|heures?|horas?|ora|orario|tijd|tijden)(?![\p{L}])[^0-9]*?(?<![A-Za-z])(UTC|GMT|WET|WEST|CET|CEST|MEZ|MESZ|EET|EEST)(?:\s*([+\-−])(\d{1,2})(?::?(\d{2}))?)?\W*$", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Sentence();

    [GeneratedRegex(@"^""?([\p{L} _-]+?)""?\s*[:=;,|\t]\s*(.*)$", RegexOptions.CultureInvariant)]
    private static partial Regex KeyAndValue();

    // "+02:00", "-5", "+0530 h"
    [GeneratedRegex(@"^()([+\-−])(\d{1,2})(?::?(\d{2}))?(?:\s*h(?:ours?)?)?$", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex BareOffset();
}
