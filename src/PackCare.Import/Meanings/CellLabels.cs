using System.Globalization;
using System.Text.RegularExpressions;
using PackCare.Core.Samples;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>Which cell each row of a table with one row a cell and moment is of.</summary>
internal sealed partial class CellLabels
{
    private const int MostCells = 32;
    private const int None = -1;
    private const int Pack = -2;

    // A cell that has no more rows than these is none: another's label is damaged there.
    private const int FewRows = 2;
    private const int FewPerHundred = 5;

    private readonly ColumnRole _role;
    private readonly int[] _numberOfWord;
    private readonly int _least;

    private readonly long? _pack;

    private CellLabels(ColumnRole role, int[] cells, int count, int[] numberOfWord, int least, long? pack)
    {
        _pack = pack;
        _role = role;
        Cells = cells;
        Count = count;
        _numberOfWord = numberOfWord;
        _least = least;
    }

    /// <summary>The cell of each row, from 0; rows of the pack come after the last.</summary>
    internal int[] Cells { get; }

    /// <summary>How many cells there are.</summary>
    internal int Count { get; }

    /// <summary>How many rows a whole moment has: one for each cell, and that of the pack where there is one.</summary>
    internal int RowsOfMoment => Count + (_pack is null ? 0 : 1);

    /// <summary>The cell, from 0, that a value of the column stands for; the number of cells for the pack.</summary>
    internal int CellOf(long value) => value == _pack ? Count : (_numberOfWord.Length > 0 ? _numberOfWord[(int)value] : (int)value) - _least;

    /// <summary>How the log names a cell, from 0, that it has, or the pack.</summary>
    internal string NameOf(int cell) => cell == Count ? "pack"
        : _role.Column.Shape == ColumnShape.Text ? Refusals.Snippet(_role.Column.Words[Array.IndexOf(_numberOfWord, cell + _least)]) : (cell + _least).ToString(CultureInfo.InvariantCulture);

    /// <summary>Reads the labels; null where they do not number cells, or, with the problem told, where one of them is damaged.</summary>
    /// <param name="columns">The columns, for the problem.</param>
    /// <param name="role">The column that names the cell of each row.</param>
    /// <param name="pack">The value by which it names the pack in rows of its own; null where there are none.</param>
    internal static CellLabels? Of(LogColumns columns, ColumnRole role, long? pack)
    {
        RawColumn column = role.Column;
        bool isWord = column.Shape == ColumnShape.Text;
        if (column.Present == 0 || column.TooManyWords || !(isWord ? column.Words.Count <= 4 * MostCells : column.Shape == ColumnShape.Number && column.MaxDecimals == 0))
        {
            return null;
        }

        int[] numberOfWord = isWord ? NumbersOf(column.Words) : [];
        int[] numbers = new int[columns.Table.Rows];
        var counts = new Dictionary<int, int>();
        long[] scaled = new long[Channel.BlockRows];
        int row = 0;
        foreach (SampleBlock block in column.Values)
        {
            BlockCodec.Decode(block, scaled);
            for (int i = 0; i < block.Count; i++, row++)
            {
                if (scaled[i] == pack)
                {
                    numbers[row] = Pack;
                    continue;
                }

                int number = scaled[i] == BlockCodec.Missing ? None : isWord ? numberOfWord[(int)scaled[i]] : (int)Math.Clamp(scaled[i], None, int.MaxValue);
                numbers[row] = number;
                counts[number] = counts.GetValueOrDefault(number) + 1;
            }
        }

        int most = counts.Where(count => count.Key != None).Select(count => count.Value).DefaultIfEmpty().Max();
        List<int> common = [.. counts.Where(count => count.Key != None && !IsFew(count.Value, most)).Select(count => count.Key).Order()];
        if (common.Count is 0 or > MostCells || common[0] is not (0 or 1) || common[^1] - common[0] + 1 != common.Count)
        {
            return null;
        }

        int odd = counts.Count == common.Count ? None : Array.FindIndex(numbers, number => number != Pack && (number < common[0] || number > common[^1]));
        if (odd >= 0)
        {
            if (counts.Where(count => !common.Contains(count.Key)).Sum(count => count.Value) * 4 > row)
            {
                return null;
            }

            string found = Text(role, odd) is { } text ? $"a row of cell \"{Refusals.Snippet(text)}\", where the cells are {common[0]} to {common[^1]}" : "a row that names no cell";
            columns.Refuse("cell-numbers", odd, role, found, "correct that line, or remove it");
            return null;
        }

        for (int i = 0; i < numbers.Length; i++)
        {
            numbers[i] = numbers[i] == Pack ? common.Count : numbers[i] - common[0];
        }

        return new CellLabels(role, numbers, common.Count, numberOfWord, common[0], pack);
    }

    /// <summary>The number in a word, where it holds one of one or two digits; -1 otherwise.</summary>
    internal static int NumberIn(string word)
    {
        string digits = new([.. word.Where(char.IsAsciiDigit)]);
        bool single = digits.Length is 1 or 2 && word.Contains(digits, StringComparison.Ordinal);
        return single ? int.Parse(digits, CultureInfo.InvariantCulture) : None;
    }

    /// <summary>In how many places from one row to the next the cell changes.</summary>
    internal int Changes()
    {
        int changes = 0;
        for (int i = 1; i < Cells.Length; i++)
        {
            changes += Cells[i] != Cells[i - 1] ? 1 : 0;
        }

        return changes;
    }

    private static bool IsFew(int rows, int most) => most > 4 * FewRows && (rows <= FewRows || rows * 100 <= most * FewPerHundred);

    // By their digits; "A", "B", "C" or "cell A", "cell B" by their letters, where no word has digits, or by words for numbers.
    private static int[] NumbersOf(IReadOnlyList<string> words)
    {
        if (words.Any(word => word.Any(char.IsAsciiDigit)))
        {
            // "1 of 3", "1/3": how many there are stands behind each.
            Match[] parts = [.. words.Select(word => OfSoMany().Match(word))];
            bool areParts = parts.Count(part => part.Success) > 1 && parts.Where(part => part.Success).Select(part => part.Groups["all"].Value).Distinct().Count() == 1;
            return [.. words.Zip(parts, (word, part) => areParts && part.Success ? int.Parse(part.Groups["one"].Value, CultureInfo.InvariantCulture) : NumberIn(word))];
        }

        int[] letters = [.. words.Select(word => word.Split(' ', '_', '-')[^1] is [var letter] && char.IsAsciiLetter(letter) ? char.ToUpperInvariant(letter) - 'A' + 1 : None)];
        int[] named = [.. words.Select(word => HeaderWords.Read($"cell {word}", null).Number ?? None)];
        return named.Count(number => number != None) > letters.Count(letter => letter != None) ? named : letters;
    }

    [GeneratedRegex(@"^\D*(?<one>\d{1,2})\s*(/|of|von|de|di|van|av|z|из)\s*(?<all>\d{1,2})\D*$", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex OfSoMany();

    private static string? Text(ColumnRole role, int row)
    {
        long value = new BlockCursor(role.Column.Values).At(row).Scaled;
        return value == BlockCodec.Missing ? null : role.Column.Shape == ColumnShape.Text ? role.Column.Words[(int)value] : value.ToString(CultureInfo.InvariantCulture);
    }
}
