using System.Text.RegularExpressions;

namespace PackCare.Report.Pages;

/// <summary>Sets sentences that were written for a terminal as print has them: signs of their own, and units that stay with their figures.</summary>
internal static partial class Typesetting
{
    /// <summary>Sets a sentence of ours; not for what a user wrote.</summary>
    public static string Set(string sentence)
    {
        string set = Celsius().Replace(sentence.Replace("mOhm", "m\u03A9", StringComparison.Ordinal), "\u00A0\u00B0C");
        set = Minus().Replace(set, "\u2212");
        set = Unit().Replace(set, "\u00A0");
        return Apostrophe().Replace(set, "\u2019");
    }

    // No sentence of ours speaks of a C rate.
    [GeneratedRegex(@"(?<=\d) (deg)?C(?![\w-])")]
    private static partial Regex Celsius();

    // Not inside of dates, ranges or names: 2026-03-04, IEC 62133-2.
    [GeneratedRegex(@"(?<![\w.)-])-(?=\d)")]
    private static partial Regex Minus();

    [GeneratedRegex(@"(?<=[\d)]) (?=(mV|V|mA|A|mAh|Ah|Wh|W|m\u03A9|%|s|min|h|\u00D7)(?![\w-]))")]
    private static partial Regex Unit();

    [GeneratedRegex(@"(?<=\w)'(?=\w|\s|$)")]
    private static partial Regex Apostrophe();
}
