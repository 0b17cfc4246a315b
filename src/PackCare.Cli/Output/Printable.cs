using System.Globalization;
using System.Text;

namespace PackCare.Cli.Output;

/// <summary>Makes text from files and users fit for a terminal: no control characters, so that a log cannot move the cursor.</summary>
internal static class Printable
{
    /// <summary>The text on one line, control and direction-changing characters replaced.</summary>
    public static string OneLine(string text)
    {
        if (!text.Any(IsUnfit))
        {
            return text;
        }

        var result = new StringBuilder(text.Length);
        foreach (char character in text)
        {
            result.Append(character is '\n' or '\r' or '\t' ? ' ' : IsUnfit(character) ? '\uFFFD' : character);
        }

        return result.ToString();
    }

    private static bool IsUnfit(char character) =>
        char.IsControl(character)
        || (CharUnicodeInfo.GetUnicodeCategory(character) == UnicodeCategory.Format && character != '\u200D')
        || character is '\u2028' or '\u2029';
}
