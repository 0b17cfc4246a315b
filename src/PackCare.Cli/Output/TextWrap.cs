using Spectre.Console.Rendering;

namespace PackCare.Cli.Output;

/// <summary>Breaks text into lines.</summary>
internal static class TextWrap
{
    /// <summary>How many characters wide a text is on a terminal; those of some scripts take two.</summary>
    public static int Width(string text)
    {
        foreach (char character in text)
        {
            if (character > 126)
            {
                return new Segment(text).CellCount();
            }
        }

        return text.Length;
    }

    /// <summary>Lines of at most so many characters, broken between words; a word that is too long is broken within. At least one line.</summary>
    public static List<string> Lines(string text, int width)
    {
        if (Width(text) <= width)
        {
            return [text];
        }

        var lines = new List<string>();
        string line = string.Empty;
        foreach (string word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            if (line.Length > 0 && Width(line) + 1 + Width(word) <= width)
            {
                line += " " + word;
                continue;
            }

            if (line.Length > 0)
            {
                lines.Add(line);
            }

            line = word;
            while (Width(line) > width)
            {
                int part = Fitting(line, width);
                lines.Add(line[..part]);
                line = line[part..];
            }
        }

        lines.Add(line);
        return lines;
    }

    // As many characters as fit, at least one, and never half of a pair.
    private static int Fitting(string word, int width)
    {
        int length = 0;
        while (length < word.Length)
        {
            int next = length + (char.IsSurrogatePair(word, length) ? 2 : 1);
            if (length > 0 && Width(word[..next]) > width)
            {
                break;
            }

            length = next;
        }

        return length;
    }
}
