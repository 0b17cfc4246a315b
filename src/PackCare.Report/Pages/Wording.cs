using System.Globalization;
using PackCare.Analysis.Assessments;
using PackCare.Core.Estimates;
using PackCare.Core.Packs;

namespace PackCare.Report.Pages;

/// <summary>Puts figures, dates and states into words. A figure that is not known is a sentence, never a number.</summary>
internal static class Wording
{
    /// <summary>Mean length of a month in days (365.25 / 12).</summary>
    public const double MonthDays = 30.4375;

    /// <summary>A figure with a fixed number of digits and a proper minus.</summary>
    public static string Figure(double value, int digits)
    {
        double rounded = Math.Round(value, digits, MidpointRounding.AwayFromZero);
        return (rounded == 0 ? 0 : rounded).ToString("F" + digits.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture).Replace('-', '\u2212');
    }

    /// <summary>A figure with its sign.</summary>
    public static string Signed(double value, int digits)
    {
        string figure = Figure(value, digits);
        return value > 0 && figure.Any(c => c is >= '1' and <= '9') ? "+" + figure : figure;
    }

    /// <summary>A figure to about three significant digits.</summary>
    public static string Figure(double value) => Figure(value, DigitsFor(value));

    /// <summary>A figure without digits that say nothing, for instance "10" or "0.5".</summary>
    public static string Plain(double value) => value.ToString("0.##", CultureInfo.InvariantCulture).Replace('-', '\u2212');

    /// <summary>A figure to about three significant digits with its sign.</summary>
    public static string Signed(double value) => Signed(value, DigitsFor(value));

    /// <summary>An estimate with its interval and count, for instance "1.62 (1.50 to 1.74; n = 12)".</summary>
    public static string Interval(Estimate estimate, int digits, string unit = "")
    {
        string after = unit.Length > 0 ? "\u00A0" + unit : "";
        return $"{Figure(estimate.Value, digits)}{after} ({Range(estimate.Low, estimate.High, digits)}{after}; n\u00A0=\u00A0{estimate.Count.ToString(CultureInfo.InvariantCulture)})";
    }

    /// <summary>A difference of voltages, not finer than loggers resolve.</summary>
    public static string Millivolts(double value) => value < 1 ? "under 1\u00A0mV" : $"{Figure(value, 0)}\u00A0mV";

    /// <summary>Two ends, in order.</summary>
    public static string Range(double low, double high, int digits) => $"{Figure(low, digits)} to {Figure(high, digits)}";

    /// <summary>A number of things, for instance "1 day" or "3 days".</summary>
    public static string Count(int count, string one, string many) => $"{count.ToString(CultureInfo.InvariantCulture)}\u00A0{(count == 1 ? one : many)}";

    /// <summary>A length of time in days, finer where it is short.</summary>
    public static string Days(double days) => days < 0.5 ? "less than half a day" : days < 9.95
        ? $"{Figure(days, 1)}\u00A0{(Figure(days, 1) == "1.0" ? "day" : "days")}"
        : $"{Figure(days, 0)}\u00A0days";

    /// <summary>A length of time given in seconds.</summary>
    public static string Duration(double seconds) => seconds switch
    {
        < 90 => $"{Figure(seconds, 0)}\u00A0s",
        < 90 * 60 => $"{Figure(seconds / 60, 0)}\u00A0min",
        < 48 * 3600 => $"{Figure(seconds / 3600, 1)}\u00A0h",
        _ => Days(seconds / 86400),
    };

    /// <summary>The one word for a standing.</summary>
    public static string Word(Standing standing) => standing switch
    {
        Standing.Sound => "sound",
        Standing.Unknown => "unknown",
        Standing.Watch => "watch",
        Standing.Retire => "retire",
        Standing.Stop => "stop",
        _ => throw new ArgumentOutOfRangeException(nameof(standing)),
    };

    /// <summary>What a standing says.</summary>
    public static string Meaning(Standing standing) => standing switch
    {
        Standing.Sound => "nothing on record speaks against it",
        Standing.Unknown => "too little is on record to tell",
        Standing.Watch => "something has passed its watch limit",
        Standing.Retire => "plan to take it out of use",
        Standing.Stop => "do not charge or use it",
        _ => throw new ArgumentOutOfRangeException(nameof(standing)),
    };

    /// <summary>The one word for how grave a finding is.</summary>
    public static string Word(FindingLevel level) => level switch
    {
        FindingLevel.Note => "note",
        FindingLevel.Watch => "watch",
        FindingLevel.Retire => "retire",
        FindingLevel.Stop => "stop",
        _ => throw new ArgumentOutOfRangeException(nameof(level)),
    };

    /// <summary>How soon something needs doing.</summary>
    public static string Word(DueUrgency urgency) => urgency switch
    {
        DueUrgency.Stop => "stop now",
        DueUrgency.Overdue => "overdue",
        DueUrgency.Due => "today",
        DueUrgency.Plan => "plan",
        _ => throw new ArgumentOutOfRangeException(nameof(urgency)),
    };

    /// <summary>Why cells differ, as a sentence.</summary>
    public static string Sentence(ImbalanceCause cause, int? cell)
    {
        string which = cell is { } number ? $"cell {number.ToString(CultureInfo.InvariantCulture)}" : "one cell";
        return cause switch
        {
            ImbalanceCause.None => "The cells do not differ beyond the limit, so there is no cause to look for.",
            ImbalanceCause.ChargeOffset => $"The likely cause is a charge offset: {which} holds another state of charge than the rest. Balancing mends that.",
            ImbalanceCause.Capacity => $"The likely cause is capacity: {which} holds less than the rest. Balancing does not mend that.",
            ImbalanceCause.SelfDischarge => $"The likely cause is self-discharge: {which} loses charge while at rest. Balancing helps for a while only.",
            ImbalanceCause.Resistance => $"The likely cause is resistance: {which} differs as long as current flows. Balancing does not mend that.",
            ImbalanceCause.Undetermined => "The evidence does not decide the cause.",
            _ => throw new ArgumentOutOfRangeException(nameof(cause)),
        };
    }

    /// <summary>The trade's name of a chemistry.</summary>
    public static string Word(Chemistry chemistry) => chemistry switch
    {
        Chemistry.LiPo => "LiPo",
        Chemistry.LiHv => "LiHV",
        Chemistry.LiIon => "Li-ion",
        Chemistry.LiFePo4 => "LiFePO4",
        _ => throw new ArgumentOutOfRangeException(nameof(chemistry)),
    };

    /// <summary>Where a pack was on a day.</summary>
    public static string Word(DayState state) => state switch
    {
        DayState.Unknown => "unknown",
        DayState.Storage => "storage",
        DayState.Part => "part",
        DayState.InUse => "in use",
        DayState.PossiblyFull => "possibly full",
        DayState.Full => "full",
        _ => throw new ArgumentOutOfRangeException(nameof(state)),
    };

    /// <summary>Why there is no trend.</summary>
    public static string TooLittle(Trend.TooLittleData little)
    {
        string have = $"{little.Have.ToString(CultureInfo.InvariantCulture)} of {little.Need.ToString(CultureInfo.InvariantCulture)}";
        return little.Reason.Contains(have, StringComparison.Ordinal)
            ? $"Too little data for a trend: {TrimStop(little.Reason)}."
            : $"Too little data for a trend: {have} readings ({TrimStop(little.Reason)}).";
    }

    /// <summary>When a limit is reached, as the end of a sentence that names the limit.</summary>
    public static string Sentence(LimitDate date, string limit, DateTimeOffset now, DateText dates) => date switch
    {
        LimitDate.Passed => $"It is past {limit}.",
        LimitDate.Ahead { High: { } high } ahead => $"At this rate it reaches {limit} around {dates.Coarse(ahead.Expected, ahead.Expected, now)} (between {dates.Coarse(ahead.Low, ahead.Expected, now)} and {dates.Coarse(high, ahead.Expected, now)}; n\u00A0=\u00A0{ahead.Count.ToString(CultureInfo.InvariantCulture)}).",
        LimitDate.Ahead ahead => $"At this rate it reaches {limit} around {dates.Coarse(ahead.Expected, ahead.Expected, now)}, not before {dates.Coarse(ahead.Low, ahead.Expected, now)}; how late cannot be told (n\u00A0=\u00A0{ahead.Count.ToString(CultureInfo.InvariantCulture)}).",
        LimitDate.NotWithin none => $"As far as the trend tells, it does not reach {limit} within {Count(none.Years, "year", "years")} (n\u00A0=\u00A0{none.Count.ToString(CultureInfo.InvariantCulture)}).",
        LimitDate.TooLittleData little => $"When it reaches {limit} cannot be told: {LowerFirst(TrimStop(little.Reason))}.",
        _ => throw new ArgumentOutOfRangeException(nameof(date)),
    };

    /// <summary>Words joined as in a sentence.</summary>
    public static string Join(IReadOnlyList<string> words) => words.Count switch
    {
        0 => "",
        1 => words[0],
        _ => string.Join(", ", words.Take(words.Count - 1)) + " and " + words[^1],
    };

    /// <summary>The text without a full stop at its end.</summary>
    public static string TrimStop(string text) => text.TrimEnd('.', ' ');

    /// <summary>The text with a small first letter.</summary>
    public static string LowerFirst(string text) =>
        text.Length > 1 && char.IsUpper(text[0]) && char.IsLower(text[1]) ? char.ToLowerInvariant(text[0]) + text[1..] : text;

    private static int DigitsFor(double value) => Math.Abs(value) switch
    {
        >= 100 => 0,
        >= 10 => 1,
        _ => 2,
    };
}
