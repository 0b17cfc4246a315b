using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>Recognises logs of which each row names one quantity and gives its value. They are refused by what they are.</summary>
internal static class NameValueRows
{
    private const int MostNames = 128;

    /// <summary>Refuses such a log.</summary>
    internal static void Check(LogColumns columns)
    {
        bool hasTimes = columns.Roles.Any(role => role.Column.Shape == ColumnShape.Time);
        if (columns.Guide is not null || columns.Roles.Count(role => role.Profile is { Count: > 0, IsConstant: false }) > (hasTimes ? 1 : 2))
        {
            return;
        }

        ColumnRole? names = columns.Roles.FirstOrDefault(role => role.Column.Shape == ColumnShape.Text && !role.Column.TooManyWords && role.Column.Words.Count is >= 2 and <= MostNames
            && NameQuantities(role.Column.Words) && ChangesOften(role));
        if (names is not null)
        {
            columns.Refuse(
                "name-value-rows", 0, names, $"rows that each name one quantity in column {names.Column.Index + 1} (\"{Refusals.Snippet(names.Column.Words[0])}\", \"{Refusals.Snippet(names.Column.Words[1])}\") and give its value",
                "write one row a moment with a column for each quantity, for instance time_s,current_a,cell1_v,cell2_v");
        }
    }

    // Voltages and something that is none: names of cells alone are another layout.
    private static bool NameQuantities(IReadOnlyList<string> words)
    {
        HeaderHint[] hints = [.. words.Select(word => HeaderWords.Read(word, null))];
        return hints.Any(hint => hint.Quantity == Quantity.Voltage || hint.IsCell)
            && hints.Any(hint => hint is { IsCell: false, Quantity: Quantity.Current or Quantity.Charge or Quantity.Energy or Quantity.Power or Quantity.Temperature })
            && hints.Count(hint => hint.Quantity != Quantity.Unknown) * 2 > hints.Length;
    }

    private static bool ChangesOften(ColumnRole role)
    {
        long[] words = TurnTaking.FirstBlock(role);
        return TurnTaking.Changes(words) * 2 > words.Length;
    }
}
