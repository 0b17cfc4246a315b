using System.Text;
using PackCare.Import.Lexing;

namespace PackCare.Import.Tables;

/// <summary>One hypothesis of how fields and numbers are written.</summary>
/// <param name="Delimiter">The character between fields; a blank stands for a run of blanks.</param>
/// <param name="DecimalMark">Point or comma.</param>
/// <param name="Quote">What stands around quoted fields.</param>
internal sealed record Dialect(char Delimiter, char DecimalMark, char Quote = '"')
{
    /// <summary>Whether empty fields are only the gaps of a run of blanks.</summary>
    internal bool CollapsesBlanks => Delimiter == ' ';

    /// <summary>The delimiter in words.</summary>
    internal string DelimiterName => Delimiter switch
    {
        ',' => "commas",
        ';' => "semicolons",
        '\t' => "tabs",
        '|' => "vertical bars",
        ' ' => "blanks",
        _ => Delimiter.ToString(),
    };

    /// <summary>The decimal mark in words.</summary>
    internal string DecimalName => DecimalMark == ',' ? "decimal comma" : "decimal point";

    /// <summary>Whether a field is a number as this dialect writes them, or says that there is none.</summary>
    internal bool IsNumber(string field) => NumberLexer.Read(Encoding.UTF8.GetBytes(field), (byte)DecimalMark, out _, out _) != NumberShape.None;
}
