using System.CommandLine.Parsing;
using System.Globalization;

namespace PackCare.Cli.Hosting;

/// <summary>
/// Reads numbers as users type them: point as decimal mark, no grouping. Never with a culture's thousands,
/// which would take 21,5 for 215.
/// </summary>
internal static class NumberInput
{
    /// <summary>Reads a finite number.</summary>
    public static bool TryRead(string text, out double number) =>
        double.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out number) && double.IsFinite(number);

    /// <summary>The parser of number options.</summary>
    public static double? Parse(ArgumentResult result)
    {
        string text = result.Tokens[0].Value;
        if (TryRead(text, out double number))
        {
            return number;
        }

        result.AddError(Complaint(text));
        return null;
    }

    /// <summary>The parser of money options.</summary>
    public static decimal? ParseMoney(ArgumentResult result)
    {
        string text = result.Tokens[0].Value;
        if (decimal.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out decimal amount))
        {
            return amount;
        }

        result.AddError(Complaint(text));
        return null;
    }

    /// <summary>Says what is wrong with a mistyped number.</summary>
    public static string Complaint(string text) => $"'{text}' is not a number; write it with a point, like 3.85.";
}
