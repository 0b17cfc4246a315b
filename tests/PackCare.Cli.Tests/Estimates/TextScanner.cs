using System.Globalization;
using System.Text.RegularExpressions;

namespace PackCare.Cli.Tests.Estimates;

/// <summary>
/// Finds figures in text that may be estimates and stand without an interval or without the number of observations. Whatever carries one
/// of the units of an estimate is taken for one, unless it is of a kind that is listed here with the reason why it is none.
/// </summary>
public static partial class TextScanner
{
    private const string Figure = @"[+\u2212-]?\d+(?:\.\d+)?";
    private const string Day = @"\d{4}-\d{2}-\d{2}";
    private const string Unit = @"(?:mOhm|m\u03A9|Ah|mAh|kJ/mol|mV|%|times|\u00D7|(?:equivalent )?full cycles)";

    /// <summary>Figures with such a unit that were read, counted, set or stated and not estimated, and why.</summary>
    private static readonly (string Why, string Pattern)[] NotEstimated =
    [
        ("what is stated of the pack by its maker", $@"{Figure} Ah rated|rated {Figure} Ah|\d+S(?:\d+P)? [\w-]+, {Figure} m?Ah"),
        ("the confidence itself", "95 % (?:intervals?|bars|confidence|from)"),
        ("a limit that is set", $@"(?:watch|act) (?:at|limit is|limit of) {Figure}(?: ?%)?|act at {Figure} %|Limit {Figure}(?: [%\w/]+)?, (?:passed by|margin) {Figure}(?: [%\w/]+)?|(?:more than|over|is past|reaches|reached|reach|no date for|Cells? [\d, ]+:|Capacity limit) {Figure} ?(?:mV|%|times)(?! \()"),
        ("a limit whose crossing is looked at", $@"{Figure} (?:%|times (?:the first sessions' resistance|its baseline|the baseline))(?= (?:is|limit|around|within|cannot|\((?:not before|between))|:|\.|$)"),
        ("a limit's label in a chart", $@"(?:watch|act), {Figure} (?:%|\u00D7 baseline)|{Figure} mV, (?:watch|retire|stop)"),
        ("a reading of cell voltages against each other", $@"{Figure} mV apart|[Rr]est spread (?:under )?{Figure} mV|latest with {Figure} mV|under 1 mV apart|(?:under )?{Figure} mV after the last full charge|{Figure} mV from the median|spread (?:under )?{Figure} mV|were (?:under )?{Figure} mV apart|(?:under )?{Figure} mV {Day}"),
        ("a plain count of charge that was logged", $@"throughput {Figure} Ah|{Figure} Ah put in|{Figure} Ah went in|{Figure} Ah (?:went|came) out|equivalent full cycles {Figure}(?! \()|{Figure} equivalent full cycles|\({Figure} full cycles\)"),
        ("a share of days on record", $@"on {Figure} % of days"),
        ("a bound on what two published sources expect, over a number of spells", $@"less than 0\.1 % of capacity over \d+ spells?"),
        ("the range of two published sources, over a number of spells", $@"{Figure} (?:to|and) {Figure} % of capacity(?: beyond storage level)?(?: \(\d+ spells?, two published sources\)| over \d+ spells?)|between {Figure} and {Figure} %, over \d+ spells?"),
        ("the range that the method allows for", $@"the {Figure} to {Figure} kJ/mol that"),
        ("how far readings scatter, with their number before it", $@"\d+ readings lie {Figure} % off"),
    ];

    /// <summary>All such figures, each with the sentence in which it stands.</summary>
    /// <param name="text">Text as it was printed; line breaks count as spaces but for empty lines.</param>
    public static IReadOnlyList<string> Bare(string text) =>
        [.. Blank().Split(text.Replace('\u00A0', ' ').Replace('\u2019', '\'')).Select(part => Space().Replace(part, " ").Trim()).SelectMany(Sentences).SelectMany(InSentence)];

    private static IEnumerable<string> Sentences(string paragraph) => Stop().Split(paragraph).Where(sentence => sentence.Length > 0);

    private static IEnumerable<string> InSentence(string sentence)
    {
        string rest = sentence;
        foreach ((_, string pattern) in NotEstimated)
        {
            rest = Regex.Replace(rest, pattern, " ~ ");
        }

        bool counted = Counted().IsMatch(rest);
        foreach (Match match in WithInterval().Matches(rest))
        {
            double value = Number(match.Groups["value"].Value);
            if (!(Number(match.Groups["low"].Value) <= value && value <= Number(match.Groups["high"].Value)))
            {
                yield return $"'{match.Value}' lies outside its interval: {sentence}";
            }

            if (!counted)
            {
                yield return $"'{match.Value}' says not how many observations it rests on: {sentence}";
            }
        }

        rest = WithInterval().Replace(rest, " ~ ");
        foreach (Match match in WithUnit().Matches(rest))
        {
            yield return $"'{match.Value}' has no interval: {sentence}";
        }

        foreach (Match match in Foreseen().Matches(rest))
        {
            if (!match.Groups["range"].Success || !counted)
            {
                yield return $"'{match.Value}' has no {(counted ? "interval" : "count")}: {sentence}";
            }
        }
    }

    /// <summary>A figure as it is printed, its minus sign of either kind.</summary>
    public static double Number(string text) => double.Parse(text.Replace('\u2212', '-'), NumberStyles.Float, CultureInfo.InvariantCulture);

    [GeneratedRegex(@"\n[ \t]*\n")]
    private static partial Regex Blank();

    [GeneratedRegex(@"\s+")]
    private static partial Regex Space();

    [GeneratedRegex(@"(?<=[.:]) (?=[A-Z])")]
    private static partial Regex Stop();

    [GeneratedRegex(@"\bn (?:= )?\d+|(?:from|in|through|give|:) (?:the latest )?\d+ (?:sessions?|readings?|stretch(?:es)?)|after \d+ steps?|\d+ readings (?:between|give)")]
    private static partial Regex Counted();

    // "4.2 (3.9 to 4.5) mOhm", "4.2 mOhm (3.9 to 4.5 mOhm; n = 3)", and "98 % 96 to 99 %" of a figure with its small print.
    [GeneratedRegex($@"(?<![\w.:-])(?<value>{Figure})(?: ?{Unit})?(?: a (?:year|month))? ?\(?(?<low>{Figure}) to (?<high>{Figure})(?![\d-])(?: {Unit})?\)?(?:; n = \d+)?\)?(?: {Unit})?")]
    private static partial Regex WithInterval();

    [GeneratedRegex($@"(?<![\w.:-]){Figure} ?{Unit}")]
    private static partial Regex WithUnit();

    [GeneratedRegex($@"(?:expected|reached on|around) (?:{Day}|\d{{4}}(?:-\d{{2}})?)(?<range>[^.;]*(?:\({Day} to {Day}\)|not before {Day}|between [^;)]+ and [^;)]+|not before [\d-]+))?|not (?:reached )?within \d+ years(?<range>.*)")]
    private static partial Regex Foreseen();
}
