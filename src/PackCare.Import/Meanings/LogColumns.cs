using PackCare.Core.Reading;
using PackCare.Core.Samples;
using PackCare.Import.Guides;
using PackCare.Import.Tables;

namespace PackCare.Import.Meanings;

/// <summary>The columns of a table on their way to a meaning, and what was found out so far.</summary>
internal sealed class LogColumns
{
    private const double MostWholeAmperes = 60;

    internal LogColumns(RawTable table, Dialect dialect, ReadingGuide? guide, IReadOnlyDictionary<int, HeaderHint>? told = null)
    {
        Table = table;
        Dialect = dialect;
        Guide = guide;
        bool lettered = AreLetters(table.Frame.Headers);
        Roles = [.. table.Columns.Select((column, position) => new ColumnRole(column, Shown(column.Header, column.UnitField), told is not null && told.TryGetValue(position, out HeaderHint hint) ? hint : GuideHints.Of(column, guide, Shown(column.Header, column.UnitField), lettered), column.Shape is ColumnShape.Number or ColumnShape.Empty ? column.Profile : null))];
        CellPlaces.NumberLettered(Roles);
        foreach (ColumnRole role in Roles.Where(role => role.Hint is { Quantity: Quantity.Current, IsBare: true, Unit: Unit.None, IsGuided: false } && CountsRows(role)))
        {
            // "i" beside a current by a longer name.
            role.Hint = HeaderHint.Nothing;
        }

        foreach (ColumnRole role in Roles.Where(role => role.Hint is { Quantity: Quantity.Current, Unit: Unit.Ampere, IsGuided: false } && role is { Header: not null, Column: { MaxDecimals: 0, UnitField: null }, Profile.LargestMagnitude: > MostWholeAmperes } && role.Header.Trim().ToLowerInvariant() is "amp" or "amps" or "ampere" or "amperes"))
        {
            // "Amps" is the name of the column rather than the unit of such numbers.
            role.Hint = role.Hint with { Unit = Unit.None };
        }
    }

    // 1, 2, 3, in every row one more.
    private static bool CountsRows(ColumnRole role) =>
        role is { Column.MaxDecimals: 0, Profile: { Count: > 8, Missing: 0, Falls: 0, First: 0 or 1 } profile } && profile.Rises == profile.Count - 1 && profile.Max == profile.First + profile.Rises;

    internal RawTable Table { get; }

    internal Dialect Dialect { get; }

    internal ReadingGuide? Guide { get; }

    internal ColumnRole[] Roles { get; }

    /// <summary>Columns that were used up in putting rows together.</summary>
    internal List<ColumnReading> UsedUp { get; } = [];

    /// <summary>Rows whose voltages are odd, as it is found out.</summary>
    internal Task<OddVoltages> OddVoltages { get; set; } = Task.FromResult(new OddVoltages([], []));

    /// <summary>The one column that could be a voltage, where no header says so: the current has to prove it. Else null.</summary>
    internal ColumnRole? LoneCell { get; set; }

    /// <summary>Whether the numbers of the time could as well be hours, minutes and seconds without colons; only a charge counter tells.</summary>
    internal bool MayBeClockDigits { get; set; }

    /// <summary>The zone that the log states for its times; null where it does not, or a guide decides.</summary>
    internal TimeZoneInfo? StatedZone { get; set; }

    /// <summary>Moments that stand beside an elapsed time; null where none do.</summary>
    internal TimeAxis? Dated { get; set; }

    /// <summary>What the log states for its zone and is not understood; null where nothing is.</summary>
    internal string? UnreadZone { get; set; }

    internal List<string> Reasons { get; } = [];

    internal List<InputProblem> Problems { get; } = [];

    internal bool IsRefused => Problems.Any(problem => problem.Level == ProblemLevel.Refusal);

    internal IEnumerable<ColumnRole> OfMeaning(ColumnMeaning meaning) => Roles.Where(role => role.Meaning == meaning);

    internal ColumnRole? Single(ColumnMeaning meaning) => Roles.FirstOrDefault(role => role.Meaning == meaning);

    internal List<ColumnRole> Cells => [.. OfMeaning(ColumnMeaning.CellVoltage).OrderBy(role => role.Number)];

    internal void Refuse(string code, int? row, ColumnRole? role, string found, string advice) =>
        Problems.Add(Refusals.Refuse(code, row is int r ? LineOf(r, role) : null, role?.Column.Index + 1, found, advice));

    internal void Notice(string code, int? row, ColumnRole? role, string found, string advice) =>
        Problems.Add(Refusals.Notice(code, row is int r ? LineOf(r, role) : null, role?.Column.Index + 1, found, advice));

    private int LineOf(int row, ColumnRole? role)
    {
        long line = role?.Column.LineBlocks is { } lines ? new BlockCursor(lines).At(row).Scaled : BlockCodec.Missing;
        return line == BlockCodec.Missing ? Table.LineOf(row) : (int)line;
    }

    /// <summary>One block of a column of numbers, times a factor; NaN where there was no reading.</summary>
    internal static double[] Values(ColumnRole role, int block, double factor) => Values(role, block, factor, role.Values[block].Count);

    /// <summary>The first rows of one block of a column of numbers, times a factor; NaN where there was no reading.</summary>
    internal static double[] Values(ColumnRole role, int block, double factor, int rows)
    {
        var values = new double[rows];
        Read(role.Values[block], factor, values);
        return values;
    }

    /// <summary>One block as numbers times a factor, as many of them as are asked for; NaN where there was no reading.</summary>
    internal static void Read(SampleBlock block, double factor, Span<double> into) => BlockCodec.Decode(block, factor, into);

    /// <summary>The first row, from 0, whose value answers a question; null if none does.</summary>
    internal static int? FirstRow(ColumnRole role, double factor, Func<double, bool> question)
    {
        int row = 0;
        for (int b = 0; b < role.Values.Count; b++)
        {
            foreach (double value in Values(role, b, factor))
            {
                if (question(value))
                {
                    return row;
                }

                row++;
            }
        }

        return null;
    }

    // "A", "B", "C" and on name the columns of a sheet, not what is in them.
    private static bool AreLetters(string?[] headers) =>
        headers.Length >= 3 && headers.Select((header, i) => header is { Length: 1 } && char.ToUpperInvariant(header[0]) == 'A' + i).All(fits => fits);

    private static string? Shown(string? header, string? unit) => (header is null ? unit : unit is null ? header : $"{header} {unit}")?.ReplaceLineEndings(" ");
}
