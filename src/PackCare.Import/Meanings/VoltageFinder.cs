using System.Globalization;
using System.Text.RegularExpressions;
using PackCare.Core.Reading;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>Finds cell and pack voltages, by header and by what the values can physically be.</summary>
internal static partial class VoltageFinder
{
    /// <summary>Above this no cell of any chemistry goes, in volts.</summary>
    internal const double HighestCell = 5.5;

    private const double HighestPack = 150;

    // No cell that can be charged is below this from the first row to the last, in volts.
    private const double LowestCell = 0.5;

    // A single column of less is rather a current, in volts.
    private const double LowestLoneCell = 2;

    /// <summary>More cells in a row no pack has.</summary>
    internal const int MostCells = 32;

    private const double MostSlackOfNumber = 0.02;

    // Of the pack voltage. By less the cells may move without its last digit showing it, whatever zeros are written behind that.
    private const double LeastMoved = 0.01;

    /// <summary>Gives the voltage columns their meaning.</summary>
    internal static void Find(LogColumns columns)
    {
        NamedCells(columns);
        if (columns.IsRefused)
        {
            return;
        }

        if (columns.Cells.Count == 0)
        {
            RefuseNumberedPacks(columns);
            StrayValues(columns);
        }

        if (columns.Cells.Count == 0 && !columns.IsRefused)
        {
            CellsByContent(columns);
        }

        if (!columns.IsRefused)
        {
            Pack(columns);
        }

        if (!columns.IsRefused)
        {
            Unexplained(columns);
        }

        if (!columns.IsRefused && columns.Cells.Count == 0 && columns.Single(ColumnMeaning.PackVoltage) is null)
        {
            ColumnRole[] alike = [.. columns.Roles.Where(role => IsFree(role) && role.Profile!.Count > 0 && LooksLikeCell(role))];
            if (alike is [{ Hint.Quantity: Quantity.Unknown, Profile.IsConstant: false } only] && only.Profile!.Min * Factor(only) > LowestLoneCell)
            {
                only.Take(ColumnMeaning.CellVoltage, Factor(only) == 1 ? Unit.Volt : Unit.Millivolt, 1, $"all values are {Range(only)}, as those of a cell are, and there is no other such column: a pack of one cell");
                columns.LoneCell = only;

                // Beside the voltage of a pack of several cells it is their mean.
                if (columns.Roles.Any(role => IsFree(role) && role.Profile is { Count: > 0, IsConstant: false } && IsMultiple(columns, role)))
                {
                    RefuseUnsure(columns, only);
                }

                return;
            }

            RefuseUnsure(columns, alike.FirstOrDefault());
        }
    }

    /// <summary>Refuses a log in which no column is known to be a voltage.</summary>
    /// <param name="columns">The columns.</param>
    /// <param name="alone">The first that could be a cell, or null.</param>
    internal static void RefuseUnsure(LogColumns columns, ColumnRole? alone) => columns.Refuse(
        "no-voltages", columns.Table.Rows > 0 ? 0 : null, alone, alone is null ? "no column holds cell or pack voltages" : $"no column is sure to hold cell or pack voltages; column {alone.Column.Index + 1} could, but nothing proves it",
        alone is null ? "name the columns in a header, for instance cell1_v, cell2_v, pack_v"
        : $"name the columns in a header, for instance cell1_v, cell2_v, pack_v; or in a reading guide: {{ \"index\": {alone.Column.Index + 1}, \"meaning\": \"cell-voltage\", \"cell\": 1 }}");

    // With one decimal, a pack voltage that nothing names looks like a temperature of the same size.
    private static bool MayBeDegrees(ColumnRole role) => role.Hint.Quantity == Quantity.Unknown && role.Column.MaxDecimals <= 1 && role.Profile is { Min: >= 5, Max: <= 55 };

    private static bool IsFree(ColumnRole role) => !role.IsUsed && role.Profile is not null && !role.Hint.IsDerived;

    private static void NamedCells(LogColumns columns)
    {
        // Words in a few rows of a cell are damage; the same word in all of them says that there is no cell.
        ColumnRole? words = columns.Roles.FirstOrDefault(role => role is { IsUsed: false, Hint: { Quantity: Quantity.Voltage, IsCell: true, IsDerived: false, Number: not null }, Column.Shape: ColumnShape.Text }
            && role.Column.Present > 0 && role.Column.Present < columns.Table.Rows && !role.Column.TooManyWords);
        if (words is not null)
        {
            columns.Refuse("not-a-number", LogColumns.FirstRow(words, 1, word => !double.IsNaN(word)), words, $"\"{Refusals.Snippet(words.Column.Words[0])}\" where a number is due", "correct that value, or clear it if there was no reading");
            return;
        }

        // Numbers in a form that is not known, under a header that promises voltages: to leave them out would make another pack of it.
        ColumnRole? promised = columns.Roles.FirstOrDefault(role => role is { IsUsed: false, Hint: { Quantity: Quantity.Voltage, IsDerived: false }, Column: { Shape: ColumnShape.Text, Present: > 0 } }
            && (role.Hint.IsCell || role.Hint.Unit != Unit.None || role.Hint.Number is not null) && role.Column.Words.Count(word => word.Any(char.IsAsciiDigit)) * 2 > role.Column.Words.Count);
        if (promised is not null)
        {
            columns.Refuse("not-a-number", LogColumns.FirstRow(promised, 1, word => !double.IsNaN(word)), promised, $"\"{Refusals.Snippet(promised.Column.Words[0])}\" where voltages are due", "write each cell in a column of its own, or all of them in brackets: [3.701, 3.705]");
            return;
        }

        // The same without a header, beside columns that look like cells: "3.728<br>".
        promised = columns.Roles.FirstOrDefault(role => role is { IsUsed: false, Hint.Quantity: Quantity.Unknown, Column: { Shape: ColumnShape.Text, Present: > 2 } column } && (column.TooManyWords || column.Words.Count > 2)
            && column.Words.Count(IsCellAndMore) * 2 > column.Words.Count && columns.Roles.Any(beside => Math.Abs(beside.Column.Index - column.Index) == 1 && IsFree(beside) && beside.Profile!.Count > 0 && LooksLikeCell(beside)));
        if (promised is not null)
        {
            columns.Refuse("not-a-number", LogColumns.FirstRow(promised, 1, word => !double.IsNaN(word)), promised, $"\"{Refusals.Snippet(promised.Column.Words[0])}\", which begins as the cells beside it and goes on", "export the log again, or take off what stands behind the numbers");
            return;
        }

        List<ColumnRole> named = [.. columns.Roles.Where(role => IsFree(role) && role.Hint.Quantity == Quantity.Voltage && !role.Hint.IsPack && (role.Hint.IsCell || role.Hint.Number is not null))];
        if (named.Count == 0)
        {
            return;
        }

        // One stray value makes no other quantity of a cell: the others would move up and be numbered wrongly.
        if (named.All(role => role.Hint.IsBare) && named.Count(role => role.Profile!.Count == 0 || InCellRange(role, out _)) * 2 <= named.Count)
        {
            return;
        }

        var numbered = named.Where(role => role.Hint.Number is not null).ToList();
        if (numbered.Count < named.Count)
        {
            numbered.RemoveAll(role => !role.Hint.IsCell && named.Any(other => other.Hint.IsCell));
        }

        int start = 1;
        if (numbered.Count == 0)
        {
            // Without a number are only those that are headed as cells; beside them a numbered voltage is something else.
            named.RemoveAll(role => !role.Hint.IsCell);
            int[]? letters = CellPlaces.LettersOf(named);
            for (int n = 0; n < named.Count; n++)
            {
                named[n].Number = letters?[n] ?? n + 1;
            }
        }
        else
        {
            named = numbered;
            start = named.Min(role => role.Hint.Number!.Value) == 0 ? 0 : 1;
            foreach (ColumnRole role in named)
            {
                role.Number = role.Hint.Number - start + 1;
            }
        }

        // Whether a cell is being balanced stands beside its voltage, as 0 and 1.
        foreach (ColumnRole flag in named.Where(role => role is { Column.MaxDecimals: 0, Profile: { Min: >= 0, Max: <= 1 } } && named.Exists(other => other != role && other.Number == role.Number && InCellRange(other, out _) && other.Profile!.Max > 1)).ToList())
        {
            flag.Why = "0 and 1 beside the voltage of the same cell: a state of it; left out";
            named.Remove(flag);
        }

        foreach (var twice in named.GroupBy(role => role.Number).Where(group => group.Count() > 1))
        {
            ColumnRole first = twice.First();
            ColumnRole second = twice.ElementAt(1);
            bool mayBePacks = named.GroupBy(role => role.Number).Count(group => group.Count() > 1) > 1 && !TwinColumns.AreAlike(first, second);
            columns.Problems.Add(Refusals.Refuse(
                "duplicate-column", HeaderLine(columns), second.Column.Index + 1,
                mayBePacks ? $"columns {first.Column.Index + 1} and {second.Column.Index + 1} are both headed as cell {twice.Key}, and so are others: the cells of several packs side by side, or of one twice" : $"two columns are headed as cell {twice.Key}",
                mayBePacks ? "write one file a pack, or one row a pack and moment with a column that names the pack; if it is one pack, remove what is there twice" : "rename or remove one of them"));
            return;
        }

        named = [.. named.OrderBy(role => role.Number)];
        while (named.Count > 1 && (named[^1].Profile!.Count == 0 || named[^1].Profile is { Min: 0, Max: 0 }))
        {
            if (named[^1].Column is { FailedLine: > 0 } failed)
            {
                columns.Problems.Add(Refusals.Refuse("not-a-number", failed.FailedLine, failed.Index + 1, $"\"{failed.FailedText}\" where a number is due", "correct that value, or clear it if there was no reading"));
                return;
            }

            named[^1].Why = "no cell is connected: the column is empty or zero throughout";
            named.RemoveAt(named.Count - 1);
        }

        for (int i = 0; i < named.Count; i++)
        {
            ColumnRole role = named[i];
            if (role.Number != i + 1)
            {
                columns.Problems.Add(Refusals.Refuse(
                    "cell-numbers", HeaderLine(columns), role.Column.Index + 1, $"cell {i + 1} is missing among the headers, cell {role.Number} is there", "name the cells from 1 without a hole"));
                return;
            }

            if (role.Profile!.Count == 0)
            {
                columns.Refuse("empty-cell", null, role, $"cell {role.Number} has no readings, cells after it do", "check the balance lead, or remove the column");
                return;
            }

            Unit unit = role.Hint.Unit;
            if (unit == Unit.None)
            {
                unit = InCellRange(role, out Unit byRange) ? byRange : Unit.None;
            }

            // A cell that is dead, or not connected, amidst others that are not.
            bool isNought = role.Profile is { Min: 0, Max: 0 } && named.Count(other => InCellRange(other, out _)) * 2 > named.Count;
            if (isNought && unit == Unit.None)
            {
                InCellRange(named.Find(other => InCellRange(other, out _))!, out unit);
            }

            if (unit == Unit.None || (!Plausible(role, unit) && !isNought))
            {
                RefuseRange(columns, role, unit);
                return;
            }

            role.Take(ColumnMeaning.CellVoltage, unit, i + 1, role.Hint.Unit == Unit.None
                ? $"its header names a cell and all values are {Range(role)}, which only {UnitMarks.Symbol(unit)} can be"
                : $"its header names a cell in {UnitMarks.Symbol(unit)} and all values are {Range(role)}");
        }

        if (named.TrueForAll(role => role.Profile!.Max * role.Factor < LowestCell))
        {
            columns.Refuse("voltage-range", 0, named[0], $"values from {Range(named[0])} {UnitMarks.Symbol(named[0].Unit)}, and no cell that ever comes to {LowestCell.ToString(CultureInfo.InvariantCulture)} V", "correct the columns, or their units in the header");
            return;
        }

        if (Exchanged(columns, named) is var (cell, current))
        {
            columns.Refuse(
                "headers-exchanged", 0, cell, $"column {cell.Column.Index + 1} is headed as cell {cell.Number} and does not go along with the other cells, while column {current.Column.Index + 1}, headed as a current, does",
                "if the two headers are exchanged, correct them");
            return;
        }

        if (start == 0)
        {
            columns.Reasons.Add("Cells are numbered from 0 in the log; they are numbered from 1 here.");
        }
    }

    // 3.728 or 3728, and something behind it.
    private static bool IsCellAndMore(string word) => CellAndMore().IsMatch(word);

    [GeneratedRegex(@"^\s*[""']?([2-4][.,]\d{2,4}|[2-4]\d{3})(?![\d.,])", RegexOptions.CultureInvariant)]
    private static partial Regex CellAndMore();

    // A "current" that stays by the cells in every row, beside a "cell" that does not.
    private static (ColumnRole Cell, ColumnRole Current)? Exchanged(LogColumns columns, List<ColumnRole> cells)
    {
        const double Near = 0.3;
        List<ColumnRole> currents = [.. columns.Roles.Where(role => IsFree(role) && role.Hint.Quantity == Quantity.Current && role is { Profile: { Count: > 8, IsConstant: false, Min: > 0 }, Column.MaxDecimals: >= 2 } && InCellRange(role, out Unit unit) && unit == Unit.Volt)];
        if (currents.Count == 0 || cells.Count < 2)
        {
            return null;
        }

        double[][] volts = [.. cells.Select(role => role.FirstValues)];
        for (int c = 0; c < cells.Count; c++)
        {
            double[][] others = [.. volts.Where((_, i) => i != c)];
            if (!StaysBy(volts[c], others) && currents.Find(role => StaysBy(LogColumns.Values(role, 0, Factor(role)), others)) is { } current)
            {
                return (cells[c], current);
            }
        }

        return null;

        static bool StaysBy(double[] values, double[][] cells) => !values.Where((value, i) => Math.Abs(value - cells.Average(cell => cell[i])) > Near).Any();
    }

    private static int? HeaderLine(LogColumns columns) =>
        columns.Table.Frame.HasHeader ? Math.Max(1, columns.Table.Frame.FirstLine - columns.Table.Frame.UnitLines - 1) : null;

    private static string Range(ColumnRole role) => string.Create(CultureInfo.InvariantCulture, $"{role.Profile!.Min:0.###} to {role.Profile.Max:0.###}");

    // Volts and millivolts cannot both be meant: a cell lives between 0.5 and 5 V.
    private static bool InCellRange(ColumnRole role, out Unit unit)
    {
        NumberProfile profile = role.Profile!;
        unit = profile is { Min: >= 0, Max: >= 0.5 and <= HighestCell } ? Unit.Volt
            : profile is { Min: >= 0, Max: >= 500 and <= HighestCell * 1000 } && (profile.Min >= 100 || profile.Min == 0) ? Unit.Millivolt : Unit.None;
        return unit != Unit.None;
    }

    private static bool Plausible(ColumnRole role, Unit unit)
    {
        double factor = UnitMarks.Factor(unit);
        return role.Profile!.Min * factor >= 0 && role.Profile.Max * factor is >= 0.3 and <= HighestCell
            && !(unit == Unit.Millivolt && role.Profile.Min is > 0 and < 10);
    }

    private static void RefuseRange(LogColumns columns, ColumnRole role, Unit stated)
    {
        NumberProfile profile = role.Profile!;
        double[] values = [.. LogColumns.Values(role, 0, 1).Where(double.IsFinite)];
        double usual = values.Length == 0 ? profile.First : Selection.At(values, values.Length / 2);
        bool volts = usual is >= 0.3 and <= HighestCell;
        bool millivolts = usual is >= 300 and <= HighestCell * 1000;
        double low = volts ? 0 : 100;
        double high = volts ? HighestCell : HighestCell * 1000;
        int? row = stated == Unit.None && (volts || millivolts) ? LogColumns.FirstRow(role, 1, value => value < low || value > high) : null;
        if (row is not null)
        {
            columns.Refuse("voltage-range", row, role, $"a value that is no cell voltage in {(volts ? "V" : "mV")} as the other rows are", "correct that line");
            return;
        }

        double factor = UnitMarks.Factor(stated);
        int? first = stated == Unit.None ? 0 : LogColumns.FirstRow(role, factor, value => value is < 0 or > HighestCell) ?? LogColumns.FirstRow(role, factor, value => value is > 0 and < 0.01) ?? 0;
        columns.Refuse(
            "voltage-range", first, role,
            stated == Unit.None ? $"values from {Range(role)} that are a cell voltage neither in V nor in mV" : $"values from {Range(role)} that are no cell voltage in {UnitMarks.Symbol(stated)} as the header says",
            "correct the column, or its unit in the header");
    }

    // Without a header, a column that runs along with the cell beside it in all rows but one or two has a value there that no cell has.
    private static void StrayValues(LogColumns columns)
    {
        List<ColumnRole> free = [.. columns.Roles.Where(role => IsFree(role) && role.Profile!.Count > 8 && role.Hint.Quantity == Quantity.Unknown)];
        foreach ((ColumnRole cell, ColumnRole role) in free.Zip(free.Skip(1)).Concat(free.Skip(1).Zip(free)).Where(pair => LooksLikeCell(pair.First) && !LooksLikeCell(pair.Second) && Math.Abs(pair.First.Column.Index - pair.Second.Column.Index) == 1))
        {
            double factor = Factor(cell);
            double[] volts = LogColumns.Values(cell, 0, factor);
            double[] values = LogColumns.Values(role, 0, factor);
            int[] astray = [.. Enumerable.Range(0, volts.Length).Where(i => Math.Abs(values[i] - volts[i]) > 0.6).Take(3)];
            if (astray.Length is 1 or 2 && values.Length > 8 && astray.Any(i => values[i] > HighestCell || values[i] < 0.01))
            {
                columns.Refuse("voltage-range", astray[0], role, $"a value that is no cell voltage in {(factor == 1 ? "V" : "mV")} in a column that is one in the other rows", "correct that line");
                return;
            }
        }
    }

    // "BAT.1", "BAT.2" at 3 to 4 V each: the cells of a pack, or packs of one cell.
    private static void RefuseNumberedPacks(LogColumns columns)
    {
        List<ColumnRole> numbered = [.. columns.Roles.Where(role => IsFree(role) && role.Hint is { IsPack: true, Number: not null, IsDerived: false, Quantity: Quantity.Voltage or Quantity.Unknown } && LooksLikeCell(role))];
        if (numbered.Select(role => role.Hint.Number).Distinct().Count() > 1)
        {
            columns.Refuse("ambiguous-cells", 0, numbered[0], $"{numbered.Count} columns headed as batteries by number, each with the voltage of one cell: the cells of a pack, or packs of one cell", "head them as cells, cell1_v, cell2_v; or write one file a pack");
        }
    }

    private static void CellsByContent(LogColumns columns)
    {
        List<ColumnRole> free = [.. columns.Roles.Where(role => IsFree(role) && (role.Hint is { Quantity: Quantity.Unknown or Quantity.Voltage or Quantity.CellNumber, IsPack: false } or { IsBare: true }) && role.Profile!.Count > 0)];
        var cells = free.Where(role => LooksLikeCell(role)).ToList();
        List<(int From, int Count, ColumnRole? Pack)> runs = [.. Runs(columns, cells)];
        var proved = runs.Where(run => run.Pack is not null).ToList();
        var best = (proved.Count > 0 ? proved : runs).OrderByDescending(run => run.Count).ToList();
        if (best.Count == 0)
        {
            return;
        }

        if (best.Count > 1 && best[1].Count == best[0].Count && best[1].From != best[0].From)
        {
            columns.Refuse("ambiguous-cells", null, cells[best[0].From], $"columns {cells[best[0].From].Column.Index + 1} and on, or {cells[best[1].From].Column.Index + 1} and on, could be the cells",
                "name the columns in a header, for instance cell1_v, cell2_v; if there are several packs side by side, write one file a pack");
            return;
        }

        (int from, int count, ColumnRole? pack) = best[0];
        if (count == 1 && pack is null)
        {
            return;
        }

        if (pack is null && cells.Skip(from).Take(count).All(role => role.Hint.IsBare || role.Hint.Quantity == Quantity.Unknown) && MayBeOneCell(cells.GetRange(from, count)))
        {
            columns.Refuse(
                "ambiguous-cells", 0, cells[from], $"columns {cells[from].Column.Index + 1} to {cells[from + count - 1].Column.Index + 1} run alike: {count} cells, or one cell and the voltage of a pack of one",
                $"name the columns in a header, for instance cell1_v, cell2_v; or in a reading guide: {{ \"index\": {cells[from].Column.Index + 1}, \"meaning\": \"pack-voltage\", \"unit\": \"V\" }}");
            return;
        }

        if (pack is null && cells.Skip(from).Take(count).All(role => role.Hint.IsBare || role.Hint.Quantity == Quantity.Unknown) && StrangerAmongCells.Of(cells.GetRange(from, count)) is { } stranger)
        {
            columns.Refuse(
                "ambiguous-cells", 0, stranger, $"column {stranger.Column.Index + 1} lies where cells do and does not go along with those beside it: a cell, or a steady current",
                $"name the columns in a header, for instance current_a, cell1_v, cell2_v; or in a reading guide: {{ \"index\": {stranger.Column.Index + 1}, \"meaning\": \"current\", \"unit\": \"A\" }}");
            return;
        }

        if (pack is null && CellStatistic.Of(cells.GetRange(from, count)) is (ColumnRole statistic, string what))
        {
            columns.Refuse(
                "ambiguous-cells", 0, statistic, $"column {statistic.Column.Index + 1} is in every row the {what} of the columns beside it: no cell of its own",
                $"name the columns in a header; or leave it out with a reading guide: {{ \"index\": {statistic.Column.Index + 1}, \"meaning\": \"ignored\" }}");
            return;
        }

        // a1, a2, a3, b1, b2, b3.
        List<ColumnRole> numbered = cells.GetRange(from, count).FindAll(role => role.Hint.Number is not null && role.Hint.Quantity == Quantity.Unknown);
        if (numbered.Count == count && numbered.GroupBy(role => role.Hint.Number).FirstOrDefault(group => group.Count() > 1) is { } twice)
        {
            ColumnRole second = twice.ElementAt(1);
            columns.Refuse(
                "ambiguous-cells", null, second, $"columns {twice.First().Column.Index + 1} and {second.Column.Index + 1} are both numbered {twice.Key} (\"{Refusals.Snippet(twice.First().Header!)}\", \"{Refusals.Snippet(second.Header!)}\"): two packs, or one that is not numbered through",
                "write one file a pack, or number all cells of the pack from 1, for instance cell1_v, cell2_v");
            return;
        }

        int[] places = CellPlaces.Of(cells.GetRange(from, count)) ?? [.. Enumerable.Range(1, count)];
        for (int i = 0; i < count; i++)
        {
            ColumnRole role = cells[from + i];
            InCellRange(role, out Unit unit);
            string why = $"all values are {Range(role)}, which only a cell in {UnitMarks.Symbol(unit)} can be, and it moves together with the {(count == 2 ? "column" : $"{count - 1} columns")} beside it";
            role.Take(ColumnMeaning.CellVoltage, unit, places[i], pack is null ? why : $"{why}; they add up to column {pack.Column.Index + 1} in every row");
        }
    }

    // Two cells that never differ by more than a meter does, and a cell measured twice, look the same; so do several that never differ at all.
    // What one field lists are cells.
    private static bool MayBeOneCell(List<ColumnRole> cells) =>
        cells.Any(cell => cell.Column.Index != cells[0].Column.Index) && (cells.Count == 2 ? RunAlike(cells[0], cells[1]) : cells.Skip(1).All(role => LogColumns.Values(role, 0, Factor(role)).AsSpan().SequenceEqual(LogColumns.Values(cells[0], 0, Factor(cells[0])))));

    private static bool RunAlike(ColumnRole one, ColumnRole other)
    {
        double[] left = LogColumns.Values(one, 0, Factor(one));
        double[] right = LogColumns.Values(other, 0, Factor(other));
        double most = Math.Max(0.002, 1.01 * Math.Max(Factor(one) * Math.Pow(10, -one.Column.MaxDecimals), Factor(other) * Math.Pow(10, -other.Column.MaxDecimals)));
        return !left.Where((value, i) => Math.Abs(value - right[i]) > most).Any();
    }

    internal static bool LooksLikeCell(ColumnRole role) =>
        InCellRange(role, out Unit unit) && role.Profile!.Min > 0 && (unit == Unit.Volt ? role.Column.MaxDecimals >= 2 : role.Column.MaxDecimals <= 1)
        && (role.Hint.Unit == Unit.None || role.Hint.Unit == unit);

    /// <summary>Columns that are in every row the sum of columns side by side that look like cells.</summary>
    internal static HashSet<ColumnRole> SumsOfCells(LogColumns columns)
    {
        List<ColumnRole> cells = [.. columns.Roles.Where(role => IsFree(role) && role.Profile!.Count > 0 && LooksLikeCell(role))];
        return [.. Runs(columns, cells).Where(run => run.Pack is not null).Select(run => run.Pack!)];
    }

    // Runs of neighbouring columns in one unit that stay within 0.6 V of each other in every row, or add up to another column.
    private static IEnumerable<(int From, int Count, ColumnRole? Pack)> Runs(LogColumns columns, List<ColumnRole> cells)
    {
        double[][] values = [.. cells.Select(role => LogColumns.Values(role, 0, Factor(role)))];
        List<(ColumnRole Role, double[] Values)> packs =
        [
            .. columns.Roles.Where(role => !role.IsUsed && role.Profile is { Count: > 0 } && role.Hint is { Quantity: Quantity.Unknown or Quantity.Voltage, IsDerived: false, IsCell: false } && !MayBeDegrees(role))
                .Select(role => (role, LogColumns.Values(role, 0, PackFactor(role)))),
        ];
        for (int from = 0; from < cells.Count; from++)
        {
            if (from > 0 && Neighbours(from - 1, from))
            {
                // Only the longest run counts, but a sum may prove a part of it; parts are tried below.
                goto parts;
            }

            int count = 1;
            while (from + count < cells.Count && Neighbours(from + count - 1, from + count) && count < MostCells)
            {
                count++;
            }

            if (count >= 2)
            {
                yield return (from, count, null);
            }

        parts:
            double[] sum = [.. values[from]];
            for (int n = 1; from + n <= cells.Count && n <= MostCells; n++)
            {
                if (n > 1)
                {
                    if (!SideBySide(cells[from + n - 2], cells[from + n - 1]))
                    {
                        break;
                    }

                    for (int i = 0; i < sum.Length; i++)
                    {
                        sum[i] += values[from + n - 1][i];
                    }
                }

                foreach ((ColumnRole pack, double[] packValues) in packs)
                {
                    int index = pack.Column.Index;
                    bool inside = index >= cells[from].Column.Index && index <= cells[from + n - 1].Column.Index;
                    if (n >= 2 && !inside && AddsUp(sum, packValues, n) && SumMatch.MovesAlong(sum, packValues, SlackOf(pack, cells[from], n)))
                    {
                        yield return (from, n, pack);
                    }
                }
            }
        }

        bool Neighbours(int a, int b)
        {
            if (!SideBySide(cells[a], cells[b]) || Factor(cells[a]) != Factor(cells[b]))
            {
                return false;
            }

            double aNet = Net(values[a]);
            double bNet = Net(values[b]);
            bool isApart = Math.Abs(aNet - bNet) > Math.Max(0.03, 0.6 * Math.Max(Math.Abs(aNet), Math.Abs(bNet))) || values[a].Zip(values[b]).Any(pair => Math.Abs(pair.First - pair.Second) > 0.6);
            if (isApart && !IsDeep(a, b) && !IsDeep(b, a))
            {
                return false;
            }

            bool aFlat = cells[a].Profile!.IsConstant;
            bool bFlat = cells[b].Profile!.IsConstant;
            double moves = Math.Max((cells[a].Profile!.Max - cells[a].Profile!.Min) * Factor(cells[a]), (cells[b].Profile!.Max - cells[b].Profile!.Min) * Factor(cells[b]));
            return aFlat == bFlat || moves < 0.02;
        }

        // A cell that was drawn far below the others: it rises as they do, only faster, and comes nearer to them from row to row.
        bool IsDeep(int low, int other)
        {
            double[] deep = values[low];
            double[] usual = values[other];
            int rows = deep.Length;
            return rows >= MostCells && cells[low].Column.MaxDecimals == cells[other].Column.MaxDecimals && deep.Min() > 1 && Enumerable.Range(0, rows).All(i => deep[i] < usual[i] + 0.05)
                && usual[^1] - deep[^1] < 0.9 * (usual[0] - deep[0]) && usual[0] < usual[^1]
                && Enumerable.Range(1, rows - 1).Count(i => deep[i] >= deep[i - 1]) > 0.8 * rows;
        }
    }

    // In columns that follow each other, or in one field.
    private static bool SideBySide(ColumnRole left, ColumnRole right) => right.Column.Index - left.Column.Index is 0 or 1;

    private static double Net(double[] values)
    {
        double first = Array.Find(values, value => !double.IsNaN(value));
        double last = Array.FindLast(values, value => !double.IsNaN(value));
        return last - first;
    }

    /// <summary>Without a header, a column in the range of cells that nothing else explains leaves the number of cells open.</summary>
    internal static void CheckLeftOver(LogColumns columns)
    {
        if (columns.Cells.Count == 0 && columns.Single(ColumnMeaning.PackVoltage) is null)
        {
            return;
        }

        ColumnRole? left = columns.Roles.FirstOrDefault(role => IsFree(role) && role.Profile!.Count > 0 && !role.Profile.IsConstant && LooksLikeCell(role)
            && (role.Hint.Quantity == Quantity.CellNumber || (role.Hint.Quantity == Quantity.Unknown && !columns.Table.Frame.HasHeader)));
        left ??= columns.Cells.Count == 0 || columns.Cells[0].Hint.IsCell ? null : columns.Roles.FirstOrDefault(role => IsFree(role) && role.Profile!.Count > 0 && !role.Profile.IsConstant
            && role.Hint.Quantity == Quantity.Unknown && IsMultiple(columns, role));
        if (left is not null)
        {
            columns.Refuse("unexplained-cell", 0, left, $"column {left.Column.Index + 1} could be a cell, but nothing proves it", "name the columns in a header, for instance cell1_v, cell2_v");
        }
    }

    // The voltage of another number of cells than were found.
    private static bool IsMultiple(LogColumns columns, ColumnRole role)
    {
        double[] values = LogColumns.Values(role, 0, PackFactor(role));
        double[] mean = new double[values.Length];
        foreach (ColumnRole cell in columns.Cells)
        {
            double[] volts = LogColumns.Values(cell, 0, cell.Factor / columns.Cells.Count);
            for (int i = 0; i < mean.Length; i++)
            {
                mean[i] += volts[i];
            }
        }

        double lowest = double.PositiveInfinity;
        double highest = 0;
        for (int i = 0; i < values.Length; i++)
        {
            double ratio = values[i] / mean[i];
            lowest = double.IsNaN(ratio) ? lowest : Math.Min(lowest, ratio);
            highest = double.IsNaN(ratio) ? highest : Math.Max(highest, ratio);
        }

        double whole = Math.Round(highest);
        return whole is >= 2 and <= MostCells && Math.Abs(lowest - whole) < 0.05 && Math.Abs(highest - whole) < 0.05;
    }

    // A column that behaves like the cells but is not among them: leaving it out would make another pack of it.
    private static void Unexplained(LogColumns columns)
    {
        List<ColumnRole> cells = columns.Cells;
        if (cells.Count == 0)
        {
            return;
        }

        double[] first = cells[0].FirstValues;
        foreach (ColumnRole role in columns.Roles.Where(role => IsFree(role) && role.Profile!.Count > 0 && LooksLikeCell(role)
            && (role.Hint.Quantity is Quantity.Unknown or Quantity.Voltage or Quantity.CellNumber || (role.Hint.IsBare && !(role.Hint is { Quantity: Quantity.Resistance, Number: not null } && cells.TrueForAll(cell => cell.Hint.IsCell))))))
        {
            double[] values = LogColumns.Values(role, 0, Factor(role));
            double apart = 0;
            double moved = 0;
            double movedCell = 0;
            for (int i = 0; i < values.Length; i++)
            {
                apart = Math.Max(apart, double.IsNaN(values[i] - first[i]) ? 0 : Math.Abs(values[i] - first[i]));
                moved = Math.Max(moved, double.IsNaN(values[i]) ? 0 : Math.Abs(values[i] - values[0]));
                movedCell = Math.Max(movedCell, double.IsNaN(first[i]) ? 0 : Math.Abs(first[i] - first[0]));
            }

            if (apart < 0.5 && moved < 2 * movedCell + 0.01 && moved > (0.3 * movedCell) - 0.01)
            {
                if (cells.TrueForAll(cell => cell.Hint.IsCell) && CellStatistic.WhatOf(role, cells) is { } what)
                {
                    role.Why = $"in every row the {what} of the cells; left out";
                    continue;
                }

                columns.Refuse("unexplained-cell", 0, role, $"column {role.Column.Index + 1} behaves like a cell, but nothing says which", "name the cells in a header, for instance cell1_v, cell2_v");
                return;
            }
        }
    }

    internal static double Factor(ColumnRole role)
    {
        InCellRange(role, out Unit unit);
        return UnitMarks.Factor(role.Hint.Unit == Unit.Microvolt ? Unit.Microvolt : unit);
    }

    private static double PackFactor(ColumnRole role) => role.Profile!.Max > HighestPack ? 0.001 : 1;

    // What the digits of a pack voltage and of its cells may hide, in volts.
    private static double SlackOf(ColumnRole pack, ColumnRole cell, int cells) =>
        (PackFactor(pack) * Math.Pow(10, -pack.Column.MaxDecimals)) + (0.5 * cells * Factor(cell) * Math.Pow(10, -cell.Column.MaxDecimals));

    private static bool AddsUp(double[] sum, double[] pack, int cells)
    {
        int rows = 0;
        for (int i = 0; i < sum.Length; i++)
        {
            double difference = Math.Abs(sum[i] - pack[i]);
            if (double.IsNaN(difference))
            {
                continue;
            }

            if (difference > (0.01 * sum[i]) + (0.006 * cells))
            {
                return false;
            }

            rows++;
        }

        return rows > 0;
    }

    private static void Pack(LogColumns columns)
    {
        List<ColumnRole> cells = columns.Cells;
        List<ColumnRole> candidates = [.. columns.Roles.Where(role => IsFree(role) && role.Profile!.Count > 0 && !role.Hint.IsCell && role.Hint.Quantity == Quantity.Voltage)];
        bool named = candidates.Count > 0;
        candidates.AddRange(columns.Roles.Where(role => cells.Count > 0 && IsFree(role) && role.Profile!.Count > 0 && role.Hint is { Quantity: Quantity.PackLabel, IsPack: true }));
        if (candidates.Count == 0 && cells.Count > 0)
        {
            candidates = [.. columns.Roles.Where(role => IsFree(role) && role.Profile!.Count > 0 && role.Hint.Quantity == Quantity.Unknown && cells.Count >= 2 && !MayBeDegrees(role))];
        }

        var proved = new List<(ColumnRole Role, Unit Unit, SumMatch Match)>();
        foreach (ColumnRole role in candidates)
        {
            foreach (Unit unit in role.Hint.Unit != Unit.None ? [role.Hint.Unit] : (Unit[])[Unit.Volt, Unit.Millivolt])
            {
                SumMatch match = cells.Count > 0 ? SumMatch.Of(role, UnitMarks.Factor(unit), cells) : SumMatch.None;
                // "Pack" over 7, 7, 7: the number of the pack as well as volts without their decimals.
                bool isNumber = role.Hint.Quantity == Quantity.PackLabel && match.Slack > MostSlackOfNumber && !match.Moves;

                // A supply or another battery may come near the sum; it does not go the way of the cells. What never changes is a target.
                bool isTarget = role.Profile!.IsConstant && match.Range > Math.Max(3 * UnitMarks.Factor(unit) * Math.Pow(10, -role.Column.MaxDecimals), LeastMoved * role.Profile.Max * UnitMarks.Factor(unit));
                if (!isNumber && !isTarget && match.IsSum(isNamed: named || role.Hint.IsPack) && (match.Moves || HeaderWords.IsPlainVoltage(role.Header)))
                {
                    proved.Add((role, unit, match));
                }
            }
        }

        if (proved.Count > 0)
        {
            (ColumnRole role, Unit unit, SumMatch match) = proved.OrderByDescending(p => p.Role.Hint.IsPack).ThenBy(p => Math.Abs(p.Match.Ratio - 1)).First();
            role.Take(ColumnMeaning.PackVoltage, unit, null, string.Create(CultureInfo.InvariantCulture, $"it is the sum of the {cells.Count} cells, {match.Ratio:0.000} of it on average"));
            if (match.IsLoose)
            {
                columns.Notice("pack-not-sum", 0, role, string.Create(CultureInfo.InvariantCulture, $"a pack voltage that is at least {match.Nearest * 100:0.0} % off the sum of the {cells.Count} cells in every row"), "it was kept as logged; one of the two is measured badly");
            }

            return;
        }

        if (!named)
        {
            return;
        }

        // A number of the pack is no voltage of it.
        candidates.RemoveAll(role => cells.Count > 0 && role.Hint.Quantity == Quantity.PackLabel);
        if (candidates.Count == 0)
        {
            return;
        }

        ColumnRole first = candidates.OrderByDescending(role => role.Hint.IsPack).First();
        if (cells.Count == 0)
        {
            Unit unit = first.Hint.Unit != Unit.None ? first.Hint.Unit : first.Profile!.Max > HighestPack ? Unit.Millivolt : Unit.Volt;
            double factor = UnitMarks.Factor(unit);
            if (first.Profile!.Max * factor is < 0.5 or > HighestPack || first.Profile.Min < 0)
            {
                int? row = LogColumns.FirstRow(first, factor, value => value is < 0 or > HighestPack) ?? 0;
                columns.Refuse("voltage-range", row, first, $"values from {Range(first)} that are no pack voltage", "correct the column, or its unit in the header");
                return;
            }

            first.Take(ColumnMeaning.PackVoltage, unit, null, $"its header names a voltage and no cell, values are {Range(first)}");
            return;
        }

        if (first.Hint.IsPack && HeaderWords.IsPlainVoltage(first.Header))
        {
            columns.Refuse("pack-not-sum", 0, first, $"a pack voltage of {Range(first)} that is not the sum of the {cells.Count} cells", "check that all cells are in the log, and the units in the header");
            return;
        }

        first.Why = "its header names a voltage, but it is not the sum of the cells; left out";
        columns.Notice("pack-not-sum", 0, first, "a voltage that is not the sum of the cells", "the column was left out");
    }
}
