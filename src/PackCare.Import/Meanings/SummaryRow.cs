using PackCare.Core.Reading;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>Finds a last row without a word to it that repeats the last time and holds the largest, or the smallest, value of every column: a line below the table, and no sample.</summary>
internal static class SummaryRow
{
    private const int FewestRows = 20;
    private const int FewestColumns = 3;
    private const int FewestJumps = 2;

    /// <summary>Refuses a log that ends with one.</summary>
    internal static void Check(LogColumns columns, TimeAxis axis)
    {
        List<ColumnRole> moving = [.. columns.Roles.Where(role => role is { IsUsed: true, Profile: { IsConstant: false, Missing: 0 } } && !role.HasProvedSign && role.Meaning is not (ColumnMeaning.ElapsedTime or ColumnMeaning.Timestamp or ColumnMeaning.PackLabel or ColumnMeaning.SessionNumber))];
        if (columns.Table.Rows < FewestRows || moving.Count < FewestColumns || columns.UsedUp.Count > 0 || columns.Single(ColumnMeaning.PackLabel) is not null || axis.SecondsAt(columns.Table.Rows - 1) != axis.SecondsAt(columns.Table.Rows - 2) || axis.SecondsAt(columns.Table.Rows - 2) == axis.SecondsAt(columns.Table.Rows - 3))
        {
            return;
        }

        int last = columns.Table.Rows - 1;
        (double Before, double Last, NumberProfile Profile)[] ends = [.. moving.Select(role => new BlockCursor(role.Values) is var values ? (values.ValueAt(last - 1), values.ValueAt(last), role.Profile!) : default)];
        bool isLargest = Array.TrueForAll(ends, end => end.Last == end.Profile.Max);
        if ((isLargest || Array.TrueForAll(ends, end => end.Last == end.Profile.Min)) && ends.Count(end => Math.Abs(end.Last - end.Before) > 0.2 * (end.Profile.Max - end.Profile.Min)) >= FewestJumps)
        {
            columns.Refuse("not-a-sample", last, null, $"a last row that repeats the time before it and holds the {(isLargest ? "largest" : "smallest")} value of every column, far from those of the row before: a summary below the table", "take that line out, or begin it with a word");
        }
    }
}
