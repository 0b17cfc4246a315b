using PackCare.Core.Reading;

namespace PackCare.Import.Meanings;

/// <summary>Finds two columns of different meaning that hold the same numbers in every row: one is a copy of the other, and it is not known which.</summary>
internal static class TwinColumns
{
    private const int FewestRows = 10;

    /// <summary>Refuses a log of which the current or a voltage is such a column, and points at others.</summary>
    internal static void Check(LogColumns columns)
    {
        List<ColumnRole> used = [.. columns.Roles.Where(role => role.Profile is { Count: >= FewestRows, IsConstant: false } profile && profile.Rises + profile.Falls >= FewestRows
            && role.Meaning is ColumnMeaning.CellVoltage or ColumnMeaning.PackVoltage or ColumnMeaning.Current or ColumnMeaning.Charge or ColumnMeaning.Energy or ColumnMeaning.Temperature or ColumnMeaning.Power)];
        for (int one = 0; one < used.Count; one++)
        {
            foreach (ColumnRole twin in used.Skip(one + 1).Where(role => IsOther(role.Meaning, used[one].Meaning) && AreAlike(role, used[one])))
            {
                string found = $"column {twin.Column.Index + 1} holds the numbers of column {used[one].Column.Index + 1} in every row, and is another quantity: one is a copy of the other";
                if (IsNeeded(twin) && IsNeeded(used[one]))
                {
                    columns.Refuse("duplicate-column", 0, twin, found, "export the log again; or leave the copy out with a reading guide, by which its meaning is \"ignored\"");
                }
                else
                {
                    columns.Notice("columns-alike", 0, twin, found, "have a look; both were kept as logged");
                }

                return;
            }
        }

        // A pack of one cell has its voltage.
        static bool IsOther(ColumnMeaning one, ColumnMeaning other) => one != other && !(IsVoltage(one) && IsVoltage(other));

        static bool IsVoltage(ColumnMeaning meaning) => meaning is ColumnMeaning.CellVoltage or ColumnMeaning.PackVoltage;

        static bool IsNeeded(ColumnRole role) => IsVoltage(role.Meaning) || role.Meaning == ColumnMeaning.Current;
    }

    /// <summary>Whether two columns of numbers hold the same in every row.</summary>
    internal static bool AreAlike(ColumnRole one, ColumnRole other) =>
        one.Profile!.Max == other.Profile!.Max && one.Profile.Min == other.Profile.Min && one.Profile.Rises == other.Profile.Rises && one.Profile.Falls == other.Profile.Falls
        && LogColumns.Values(one, 0, 1).AsSpan().SequenceEqual(LogColumns.Values(other, 0, 1));
}
