using System.Text;
using System.Text.RegularExpressions;
using PackCare.Report.Pages;

namespace PackCare.Report.Html;

/// <summary>Turns any text into text that is safe between tags and inside quoted attributes.</summary>
internal static partial class HtmlText
{
    /// <summary>Escapes markup characters and replaces what may not stand in a document (controls, lone surrogates, noncharacters).</summary>
    public static string Escape(string text)
    {
        var escaped = new StringBuilder(text.Length + 16);
        foreach (Rune rune in text.EnumerateRunes())
        {
            switch (rune.Value)
            {
                case '&':
                    escaped.Append("&amp;");
                    break;
                case '<':
                    escaped.Append("&lt;");
                    break;
                case '>':
                    escaped.Append("&gt;");
                    break;
                case '"':
                    escaped.Append("&quot;");
                    break;
                case '\'':
                    escaped.Append("&#39;");
                    break;
                case '\t' or '\n':
                    escaped.Append((char)rune.Value);
                    break;
                case < 0x20 or (>= 0x7F and < 0xA0) or (>= 0xFDD0 and <= 0xFDEF):
                    escaped.Append('\uFFFD');
                    break;
                default:
                    escaped.Append((rune.Value & 0xFFFE) == 0xFFFE ? "\uFFFD" : rune.ToString());
                    break;
            }
        }

        return escaped.ToString();
    }

    /// <summary>Sets and escapes a sentence of ours, and keeps the dates in it from being broken over two lines.</summary>
    public static Markup Prose(string text) => new(IsoDate().Replace(Escape(Typesetting.Set(text)), "<span class=\"d\">$0</span>"));

    /// <summary>Escapes text that a user wrote, and keeps its direction from spilling over into ours.</summary>
    public static Markup Isolate(string text) => new($"<bdi>{Escape(text)}</bdi>");

    [GeneratedRegex(@"\b\d{4}-\d\d(-\d\d)?\b")]
    private static partial Regex IsoDate();
}
