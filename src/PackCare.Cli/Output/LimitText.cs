using System.Globalization;
using PackCare.Analysis.Assessments;

namespace PackCare.Cli.Output;

/// <summary>Says when a limit will be reached.</summary>
internal static class LimitText
{
    /// <summary>A sentence on when a limit is reached.</summary>
    public static string Sentence(string limit, LimitDate date) =>
        date is LimitDate.TooLittleData little ? $"no date for {limit}: {little.Reason}" : $"{limit} is {Of(date)}";

    /// <summary>A clause, for instance <c>expected 2027-04-02 (2027-01-10 to 2027-09-30)</c>.</summary>
    public static string Of(LimitDate date) => date switch
    {
        LimitDate.Passed => "passed already",
        LimitDate.Ahead { High: { } high } ahead => $"expected {Figures.Day(ahead.Expected)} ({Figures.Day(ahead.Low)} to {Figures.Day(high)}), n {Count(ahead.Count)}",
        LimitDate.Ahead ahead => $"expected {Figures.Day(ahead.Expected)} (not before {Figures.Day(ahead.Low)}, perhaps never), n {Count(ahead.Count)}",
        LimitDate.NotWithin beyond => $"not within {beyond.Years.ToString(CultureInfo.InvariantCulture)} years, n {Count(beyond.Count)}",
        LimitDate.TooLittleData little => little.Reason,
        _ => throw new ArgumentOutOfRangeException(nameof(date)),
    };

    private static string Count(int count) => count.ToString(CultureInfo.InvariantCulture);
}
