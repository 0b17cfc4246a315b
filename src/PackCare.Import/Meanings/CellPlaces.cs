using System.Globalization;
using System.Text.RegularExpressions;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>Which place in the pack each cell's column has, by what its header counts, and what is to be told of that.</summary>
internal static partial class CellPlaces
{
    /// <summary>
    /// Reads the letters A, B, C in headers that differ by nothing else as numbers, where they count without a hole: "Cell A" and "VB", of which a letter could
    /// as well be a unit or a roman number. One alone is a number only of what is called a cell.
    /// </summary>
    internal static void NumberLettered(ColumnRole[] roles)
    {
        var found = new List<(ColumnRole Role, string Template, int Letter)>();
        foreach (ColumnRole role in roles.Where(role => role is { Profile: not null, Header: not null, Hint.IsGuided: false }))
        {
            foreach (Match match in Lettered().Matches(role.Header!))
            {
                Group letter = match.Groups["letter"];
                found.Add((role, $"{role.Header.AsSpan(0, letter.Index).TrimEnd()} *{role.Header.AsSpan(letter.Index + 1)}", char.ToUpperInvariant(letter.Value[0]) - 'A' + 1));
            }
        }

        foreach (IGrouping<string, (ColumnRole Role, string Template, int Letter)> group in found.GroupBy(one => one.Template, StringComparer.OrdinalIgnoreCase))
        {
            int[] letters = [.. group.Select(one => one.Letter).Order()];
            bool isCell = HeaderWords.Read(group.Key.Replace('*', '1'), null) is { IsCell: true };
            if (letters.SequenceEqual(Enumerable.Range(1, letters.Length)) && (letters.Length > 1 || isCell))
            {
                foreach ((ColumnRole role, string template, int letter) in group)
                {
                    role.Hint = HeaderWords.Read(template.Replace("*", letter.ToString(CultureInfo.InvariantCulture), StringComparison.Ordinal), null);
                }
            }
        }
    }

    // A capital by itself, or behind V, U or Z; not in brackets, and with something beside it. Any letter right before its unit.
    [GeneratedRegex(@"(?:(?<=[\p{L}\d.)][ _-])|(?<=\p{Ll})|(?<=^[VUZ][ _-]?))(?<letter>[A-N])(?![\p{L}\d\])}])|(?<=^)(?<letter>[A-N])(?=[ _-]\p{L}{3})|(?<=^)(?<letter>[A-Na-n])(?=\s*[\[({/]\s*m?[Vv])", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture)]
    private static partial Regex Lettered();

    /// <summary>Tells where cells are numbered by the order of their columns although their headers may mean another.</summary>
    internal static void TellOrder(LogColumns columns)
    {
        List<ColumnRole> cells = columns.Cells;
        if (cells.Count > 1 && LettersOf(cells) is null && cells.TrueForAll(role => role.Header is not null && role.Hint.Number is null && role.Header.Any(char.IsLetter))
            && cells.Select(role => role.Header!.Trim()).Distinct(StringComparer.OrdinalIgnoreCase).Count() == cells.Count)
        {
            columns.Notice(
                "cells-by-place", null, cells[0], $"cells whose headers (\"{Refusals.Snippet(cells[0].Header!)}\", \"{Refusals.Snippet(cells[1].Header!)}\") say no number; they were numbered in the order of their columns",
                "if that is not the order of the cells in the pack, number them in the headers or with a reading guide");
        }
    }

    /// <summary>Tells of two cells that never differ by a single digit, though they move and are written finely: one column may be a copy of the other.</summary>
    internal static void TellTwins(LogColumns columns)
    {
        const double FineVolts = 0.0011;
        const int LeastRows = 9;
        List<ColumnRole> cells = columns.Cells.FindAll(role => role.Profile is { Count: > LeastRows } profile && (profile.Rises + profile.Falls) * 3 > profile.Count && role.Factor * Math.Pow(10, -role.Column.MaxDecimals) < FineVolts);
        for (int one = 0; one < cells.Count; one++)
        {
            ColumnRole? twin = cells.Skip(one + 1).FirstOrDefault(role => role.Profile!.Max == cells[one].Profile!.Max && role.Profile.Rises == cells[one].Profile!.Rises && LogColumns.Values(role, 0, 1).AsSpan().SequenceEqual(LogColumns.Values(cells[one], 0, 1)));
            if (twin is not null)
            {
                columns.Notice("cells-alike", 0, twin, $"cell {twin.Number}, whose readings are those of cell {cells[one].Number} in every row", "check the log and the balance lead: one may be a copy of the other; both were kept as logged");
                return;
            }
        }
    }

    /// <summary>Tells of a cell that is written in whole volts while the others have decimals, and moves: it was rounded.</summary>
    internal static void TellRounded(LogColumns columns)
    {
        const int FineDecimals = 2;
        List<ColumnRole> cells = columns.Cells;
        ColumnRole? rounded = cells.Count(cell => cell.Factor == 1 && cell.Column.MaxDecimals >= FineDecimals) * 2 >= cells.Count ? cells.Find(cell => cell.Factor == 1 && cell is { Column.MaxDecimals: 0, Profile.Max: > 0 }) : null;
        if (rounded is not null)
        {
            columns.Notice("odd-digits", 0, rounded, $"cell {rounded.Number} in whole volts while others have decimals: they were lost", OddRows.Advice);
        }
    }

    /// <summary>The numbers or letters in headers of whatever words, where they count from 0, 1 or A without a hole; null where they do not.</summary>
    internal static int[]? Of(List<ColumnRole> cells)
    {
        int[] numbers = [.. cells.Select(role => role.Hint.Number ?? (int.TryParse(role.Header?.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out int number) ? number : -1))];
        int start = numbers.Min();
        return start is 0 or 1 && numbers.Length > 1 && numbers.Order().SequenceEqual(Enumerable.Range(start, numbers.Length)) ? [.. numbers.Select(number => number - start + 1)] : LettersOf(cells);
    }

    /// <summary>"Cell A", "cell B", "cell C", in whatever order; null where they are not headed so.</summary>
    internal static int[]? LettersOf(List<ColumnRole> cells)
    {
        int[] letters = [.. cells.Select(role => HeaderWords.LetterOf(role.Header))];
        return letters.Length > 1 && letters.Order().SequenceEqual(Enumerable.Range(1, letters.Length)) ? letters : null;
    }
}
