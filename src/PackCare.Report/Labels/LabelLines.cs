using System.Globalization;
using System.Text;
using PackCare.Report.Charts;

namespace PackCare.Report.Labels;

/// <summary>Fits a text into a box: the largest letters at which all of it goes in, in as many lines as it takes.</summary>
/// <param name="Lines">The lines.</param>
/// <param name="Size">Size of the letters, in the unit of the box.</param>
internal sealed record LabelLines(IReadOnlyList<string> Lines, double Size)
{
    /// <summary>Distance of lines as a multiple of the size of letters.</summary>
    public const double Leading = 1.12;

    private const double Shrink = 0.94;
    private const string Ellipsis = "\u2026";

    // What the font of the charts does not have is shown in one that is not known here. Ideographs, kana and hangul fill
    // a square in all of them; few other letters are wider than this.
    private const double UnknownEms = 1.35;
    private const double SquareEms = 1.02;

    /// <summary>Height of all lines.</summary>
    public double Height => Lines.Count * Size * Leading;

    /// <summary>Fits a text. Where it is too long even in the smallest letters, it ends in an ellipsis.</summary>
    /// <param name="text">The text.</param>
    /// <param name="width">Width of the box.</param>
    /// <param name="height">Height of the box.</param>
    /// <param name="largest">Largest size of letters.</param>
    /// <param name="smallest">Smallest size of letters.</param>
    public static LabelLines Fit(string text, double width, double height, double largest, double smallest)
    {
        // Words stay whole as long as the letters stay of a good size; only then are they broken.
        foreach (bool breakWords in new[] { false, true })
        {
            double least = breakWords ? smallest : Math.Max(smallest, largest * 0.45);
            for (double size = largest; size >= least; size *= Shrink)
            {
                if (Break(text, width, size, breakWords) is { } lines && lines.Count * size * Leading <= height)
                {
                    return new LabelLines(lines, size);
                }
            }
        }

        List<string> all = Break(text, width, smallest, breakWords: true)!;
        int room = Math.Max(1, (int)(height / (smallest * Leading)));
        if (all.Count > room)
        {
            all = [.. all.Take(room - 1), Shorten(all[room - 1], width, smallest)];
        }

        return new LabelLines(all, smallest);
    }

    /// <summary>Width of a text in letters of the given size.</summary>
    public static double Width(string text, double size) => Elements(text).Sum(element => Ems(element) * size);

    /// <summary>Whether the width is known in any font: every letter is in the font that the widths are taken from.</summary>
    public static bool IsMeasured(string text) => FontShelf.Typeface.ContainsGlyphs(text);

    private static double Ems(string element) => IsMeasured(element) ? FontShelf.Width(element, 100) / 100.0
        : element.EnumerateRunes().All(rune => rune.Value is (>= 0x2E80 and <= 0x9FFF) or (>= 0xAC00 and <= 0xD7AF) or (>= 0xF900 and <= 0xFAFF) or (>= 0xFF00 and <= 0xFF60) or (>= 0x20000 and <= 0x3FFFF)) ? SquareEms
        : UnknownEms;

    private static List<string>? Break(string text, double width, double size, bool breakWords)
    {
        var lines = new List<string>();
        var line = new StringBuilder();
        double used = 0;
        void End()
        {
            lines.Add(line.ToString().Trim());
            line.Clear();
            used = 0;
        }

        foreach (string word in Words(text))
        {
            if (line.Length > 0 && used + Width(word.TrimEnd(), size) > width)
            {
                End();
            }

            if (Width(word.TrimEnd(), size) > width)
            {
                if (!breakWords)
                {
                    return null;
                }

                foreach (string element in Elements(word))
                {
                    if (line.Length > 0 && used + (Ems(element) * size) > width)
                    {
                        End();
                    }

                    line.Append(element);
                    used += Ems(element) * size;
                }
            }
            else
            {
                line.Append(word);
                used += Width(word, size);
            }
        }

        if (line.Length > 0)
        {
            End();
        }

        return lines;
    }

    // A word takes the blank or hyphen behind it along.
    private static IEnumerable<string> Words(string text)
    {
        int from = 0;
        for (int at = 0; at < text.Length; at++)
        {
            if (text[at] is ' ' or '-' or '/' or '_' && at + 1 < text.Length && text[at + 1] != ' ')
            {
                yield return text[from..(at + 1)];
                from = at + 1;
            }
        }

        yield return text[from..];
    }

    private static string Shorten(string line, double width, double size)
    {
        List<string> elements = [.. Elements(line)];
        while (elements.Count > 0 && Width(string.Concat(elements) + Ellipsis, size) > width)
        {
            elements.RemoveAt(elements.Count - 1);
        }

        return string.Concat(elements).TrimEnd() + Ellipsis;
    }

    private static IEnumerable<string> Elements(string text)
    {
        TextElementEnumerator elements = StringInfo.GetTextElementEnumerator(text);
        while (elements.MoveNext())
        {
            yield return elements.GetTextElement();
        }
    }
}
