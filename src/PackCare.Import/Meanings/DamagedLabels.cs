using System.Globalization;
using PackCare.Core.Reading;
using PackCare.Core.Samples;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>
/// Finds rows whose pack or session is damaged: one row of another pack amidst the rows of one, or in the place of another that takes
/// turns with it, and a pack that has hardly a row where others have many. Read as they stand they would make packs of single rows.
/// </summary>
internal static class DamagedLabels
{
    private const int FewRows = 2;
    private const int LongRun = 4;
    private const int MostTurns = 16;

    // Rows that follow each other with one label.
    private readonly record struct Run(long Label, int Start, int Length);

    /// <summary>Refuses a log whose column of cell numbers holds other numbers here and there: it would be taken for the log of one cell.</summary>
    internal static void CheckCells(LogColumns columns)
    {
        const double MostDamaged = 0.2;
        foreach (ColumnRole role in columns.Roles.Where(role => role is { IsUsed: false, Hint: { Quantity: Quantity.CellNumber, Unit: Unit.None }, Profile: { Count: > 3, IsConstant: false } }))
        {
            double[] values = [.. LogColumns.Values(role, 0, 1).Where(double.IsFinite)];
            int others = values.Count(value => !IsCell(value));
            if (others > 0 && others <= MostDamaged * values.Length && values.Where(IsCell).Distinct().Count() > 1)
            {
                columns.Refuse("cell-numbers", LogColumns.FirstRow(role, 1, value => !double.IsNaN(value) && !IsCell(value)), role, "a number that numbers no cell, among such that do", "correct or remove that line");
                return;
            }
        }

        static bool IsCell(double value) => value == Math.Truncate(value) && value is >= 0 and <= VoltageFinder.MostCells;
    }

    /// <summary>Refuses the log at the first such row of the columns that name packs and sessions.</summary>
    internal static void Check(LogColumns columns)
    {
        foreach (ColumnRole role in columns.Roles.Where(role => role.Meaning is ColumnMeaning.PackLabel or ColumnMeaning.SessionNumber))
        {
            Check(columns, role, role.Meaning == ColumnMeaning.PackLabel);
        }
    }

    /// <summary>The same before rows of one moment are put together; true where the log was refused.</summary>
    internal static bool IsRefused(LogColumns columns)
    {
        foreach (ColumnRole role in columns.Roles.Where(role => !role.IsUsed && role.Hint.Quantity is Quantity.PackLabel or Quantity.Session && role.Column is { Present: > 0, TooManyWords: false, MaxDecimals: 0, Shape: ColumnShape.Text or ColumnShape.Number }))
        {
            Check(columns, role, role.Hint.Quantity == Quantity.PackLabel);
        }

        return columns.IsRefused;
    }

    /// <summary>Refuses the log where a pack has one or two moments twice, and all others once: one of those rows is another pack's.</summary>
    /// <param name="columns">The columns.</param>
    /// <param name="label">The one that names packs.</param>
    /// <param name="rows">Rows, from 0, whose time is that of the row before of the same pack.</param>
    internal static void CheckMoments(LogColumns columns, ColumnRole label, List<int> rows)
    {
        if (rows.Count is > 0 and <= FewRows && columns.Table.Rows > 10 * rows.Count)
        {
            columns.Refuse("pack-label", rows[0], label, "a second row of one pack at one moment", "correct that line; if it is right, write one file a pack");
        }
    }

    private static void Check(LogColumns columns, ColumnRole role, bool namesPacks)
    {
        List<Run> runs = Runs(role);
        if (columns.IsRefused || runs.Count < 2)
        {
            return;
        }

        string thing = namesPacks ? "pack" : "session";
        if (namesPacks && Unnamed(runs, columns.Table.Rows) is int unnamed)
        {
            Refuse(unnamed, "a row that names no pack, where it could be of several");
        }
        else if (namesPacks && Lone(runs) is { } lone && !BeginsAnew(columns, lone.Start))
        {
            Refuse(lone.Start, $"\"{Name(role, lone.Label)}\" for a pack, which {(lone.Length > 1 ? "two rows name" : "one row names")} where another has many");
        }
        else if (Amidst(runs, namesPacks) is { } amidst)
        {
            Refuse(amidst.Start, $"a row of \"{Name(role, amidst.Label)}\" amidst those of another {thing}");
        }
        else if (namesPacks && OutOfTurn(runs, columns.Table.Rows) is int turn)
        {
            Refuse(turn, "a row of one pack in the place of another that takes turns with it");
        }

        void Refuse(int row, string found) => columns.Refuse("pack-label", row, role, found, $"correct that line; if it is right, write one file a {thing}");
    }

    // A damaged label takes no clock back.
    private static bool BeginsAnew(LogColumns columns, int row) =>
        row > 0 && columns.Single(ColumnMeaning.ElapsedTime) is { Profile: not null } time && new BlockCursor(time.Values) is var values && values.ValueAt(row) < values.ValueAt(row - 1);

    private static string Name(ColumnRole role, long label) => Refusals.Snippet(role.Column.Shape == ColumnShape.Text ? role.Column.Words[(int)label] : label.ToString(CultureInfo.InvariantCulture));

    private static List<Run> Runs(ColumnRole role)
    {
        var runs = new List<Run>();
        long[] labels = new long[Channel.BlockRows];
        int row = 0;
        foreach (SampleBlock block in role.Column.Values)
        {
            BlockCodec.Decode(block, labels);
            for (int i = 0; i < block.Count; i++, row++)
            {
                if (runs.Count > 0 && runs[^1].Label == labels[i])
                {
                    runs[^1] = runs[^1] with { Length = runs[^1].Length + 1 };
                }
                else
                {
                    runs.Add(new Run(labels[i], row, 1));
                }
            }
        }

        return runs;
    }

    // A label that most rows leave out stands for those after it; else a row without one is of the pack that its neighbours are of.
    private static int? Unnamed(List<Run> runs, int rows)
    {
        if (runs.Where(run => run.Label == BlockCodec.Missing).Sum(run => run.Length) * 2 >= rows)
        {
            return null;
        }

        for (int i = 0; i < runs.Count; i++)
        {
            bool isSure = i > 0 && (i + 1 == runs.Count ? runs.Count == 2 : runs[i + 1].Label == runs[i - 1].Label && runs[i - 1].Length + runs[i + 1].Length >= LongRun);
            if (runs[i].Label == BlockCodec.Missing && !isSure)
            {
                return runs[i].Start;
            }
        }

        return null;
    }

    // A pack with a row or two where another has many. Where there are many such, the column names something else.
    private static Run? Lone(List<Run> runs)
    {
        List<IGrouping<long, Run>> labels = [.. runs.Where(run => run.Label != BlockCodec.Missing).GroupBy(run => run.Label)];
        int most = labels.Max(label => label.Sum(run => run.Length));
        List<IGrouping<long, Run>> few = [.. labels.Where(label => label.Sum(run => run.Length) <= FewRows)];
        return most > LongRun * FewRows && few.Count is 1 or 2 ? few.Select(label => label.First() with { Length = label.Sum(run => run.Length) }).MinBy(run => run.Start) : null;
    }

    // Where packs are logged at unlike rates, one has many such runs; a damaged row is the only one of its kind.
    private static Run? Amidst(List<Run> runs, bool namesPacks)
    {
        var amidst = new List<Run>();
        for (int i = 1; i + 1 < runs.Count; i++)
        {
            if (runs[i].Length <= FewRows && runs[i].Label != BlockCodec.Missing && runs[i - 1].Label == runs[i + 1].Label && runs[i - 1].Length >= LongRun && runs[i + 1].Length >= LongRun)
            {
                amidst.Add(runs[i]);
            }
        }

        var shorts = runs.Where(run => run.Length <= FewRows).GroupBy(run => run.Label).ToDictionary(label => label.Key, label => label.Count());
        foreach (Run run in amidst.Where(run => !namesPacks || shorts[run.Label] == 1))
        {
            int longest = runs.Where(other => other.Label == run.Label && other != run).Select(other => other.Length).DefaultIfEmpty(0).Max();
            if (!namesPacks || longest > LongRun * FewRows)
            {
                return run;
            }
        }

        return null;
    }

    // Where each label comes again after as many rows, one in the place of another differs from the rows that are so far off on both sides.
    private static int? OutOfTurn(List<Run> runs, int rows)
    {
        if (runs.Count * 2 < rows)
        {
            return null;
        }

        long[] labels = new long[rows];
        foreach (Run run in runs)
        {
            labels.AsSpan(run.Start, run.Length).Fill(run.Label);
        }

        for (int turns = 2; turns <= MostTurns && turns * LongRun * 2 <= rows; turns++)
        {
            List<int> breaks = [.. Enumerable.Range(turns, rows - turns).Where(row => labels[row] != labels[row - turns]).Take((rows / 10) + 3)];
            if (breaks.Count > 2 + (rows / 10))
            {
                continue;
            }

            foreach (int row in breaks)
            {
                if (row + turns < rows && labels[row + turns] == labels[row - turns] && breaks.Where(other => Math.Abs(other - row) < 2 * turns).SequenceEqual([row, row + turns]))
                {
                    return row;
                }
            }

            return null;
        }

        return null;
    }
}
