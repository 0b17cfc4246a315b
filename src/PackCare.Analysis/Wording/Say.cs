using System.Globalization;
using PackCare.Core.Estimates;

namespace PackCare.Analysis.Wording;

/// <summary>Puts figures into sentences, always with a point as the decimal mark.</summary>
internal static class Say
{
    /// <summary>A figure with its interval, for instance "4.2 (3.9 to 4.5) mOhm".</summary>
    public static string Interval(Estimate estimate, string format, string unit) =>
        $"{Number(estimate.Value, format)} ({Number(estimate.Low, format)} to {Number(estimate.High, format)}) {unit}".TrimEnd();

    /// <summary>A figure.</summary>
    public static string Number(double value, string format)
    {
        string text = value.ToString(format, CultureInfo.InvariantCulture);
        // A rounded nothing has no sign.
        return text.StartsWith('-') && text.All(c => c is '-' or '0' or '.') ? text[1..] : text;
    }

    /// <summary>A number of things.</summary>
    public static string Count(int count, string one, string many) => string.Create(CultureInfo.InvariantCulture, $"{count} {(count == 1 ? one : many)}");

    /// <summary>What a figure rests on, for instance "from 12 sessions".</summary>
    public static string FromSessions(int count) => $"from {Count(count, "session", "sessions")}";

    /// <summary>A day.</summary>
    public static string Day(DateTimeOffset moment) => moment.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    /// <summary>A length of time in days or hours.</summary>
    public static string Days(double days) => days < 2 ? $"{Number(days * 24, "0")} hours" : $"{Number(days, days < 10 ? "0.0" : "0")} days";
}
