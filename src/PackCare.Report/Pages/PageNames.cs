using System.Globalization;
using System.Text;

namespace PackCare.Report.Pages;

/// <summary>Derives file names from labels: plain letters, digits and hyphens only, no two alike on any file system.</summary>
internal static class PageNames
{
    private const int MostCharacters = 40;

    /// <summary>One name a label, without extension, in the order of the labels.</summary>
    public static IReadOnlyList<string> For(IReadOnlyList<string> labels)
    {
        var taken = new HashSet<string>(StringComparer.Ordinal);
        var names = new string[labels.Count];

        // Numbers are handed out in the order of labels, not of arrival, so that the same packs get the same names.
        foreach (int at in Enumerable.Range(0, labels.Count).OrderBy(at => labels[at], StringComparer.Ordinal))
        {
            string stem = Stem(labels[at]);
            string name = stem;
            for (int number = 2; !taken.Add(name); number++)
            {
                name = $"{stem}-{number.ToString(CultureInfo.InvariantCulture)}";
            }

            names[at] = name;
        }

        return names;
    }

    // The prefix keeps clear of names that are reserved on some systems (con, nul) and of the overview's.
    private static string Stem(string label)
    {
        var stem = new StringBuilder("pack");
        bool gap = true;
        foreach (char c in label)
        {
            if (stem.Length >= MostCharacters)
            {
                break;
            }

            if (!char.IsAsciiLetterOrDigit(c))
            {
                gap = true;
                continue;
            }

            if (gap)
            {
                stem.Append('-');
                gap = false;
            }

            stem.Append(char.ToLowerInvariant(c));
        }

        return stem.ToString();
    }
}
