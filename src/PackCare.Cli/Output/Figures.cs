using System.Globalization;
using PackCare.Core.Estimates;

namespace PackCare.Cli.Output;

/// <summary>The one place where figures become text: point as decimal mark, unit behind, interval and count where it is an estimate.</summary>
internal static class Figures
{
    /// <summary>Stands where there is no figure.</summary>
    public const string None = "-";

    /// <summary>A read figure with its unit.</summary>
    public static string Of(double? value, int decimals, string unit) =>
        value is { } figure ? Number(figure, decimals) + unit : None;

    /// <summary>An estimate with interval, unit and count: <c>4.71 (4.62 to 4.80) Ah, n 12</c>.</summary>
    public static string Of(Estimate? estimate, int decimals, string unit) =>
        estimate is null
            ? None
            : $"{Number(estimate.Value, decimals)} ({Number(estimate.Low, decimals)} to {Number(estimate.High, decimals)}){unit}, n {estimate.Count.ToString(CultureInfo.InvariantCulture)}";

    /// <summary>An estimate without unit and count, for a table that has columns for both: <c>4.71 (4.62..4.80)</c>.</summary>
    public static string Tight(Estimate? estimate, int decimals) =>
        estimate is null ? None : $"{Number(estimate.Value, decimals)} ({Number(estimate.Low, decimals)}..{Number(estimate.High, decimals)})";

    /// <summary>How many observations an estimate rests on, for a table that has a column for it.</summary>
    public static string Sessions(Estimate? estimate) => estimate?.Count.ToString(CultureInfo.InvariantCulture) ?? None;

    /// <summary>A moment as the clock on the wall showed it where it was recorded.</summary>
    public static string Moment(DateTimeOffset moment) => moment.ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);

    /// <summary>The day of a moment, likewise.</summary>
    public static string Day(DateTimeOffset? moment) => moment?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) ?? None;

    /// <summary>A length of time in its natural unit.</summary>
    public static string Duration(double seconds) => seconds switch
    {
        < 120 => Number(seconds, 0) + " s",
        < 7200 => Number(seconds / 60, 0) + " min",
        < 172_800 => Number(seconds / 3600, 1) + " h",
        _ => Number(seconds / 86_400, 1) + " d",
    };

    /// <summary>A count with its noun.</summary>
    public static string Count(int count, string one, string many) =>
        count.ToString(CultureInfo.InvariantCulture) + " " + (count == 1 ? one : many);

    /// <summary>A plain number.</summary>
    public static string Number(double value, int decimals)
    {
        string text = value.ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        return text.TrimStart('-').Trim('0', '.').Length == 0 ? text.TrimStart('-') : text;
    }
}
