using System.Globalization;
using PackCare.Cli.Hosting;
using PackCare.Cli.Output;
using PackCare.Core.Packs;
using PackCare.Core.Reading;
using PackCare.Core.Samples;
using PackCare.Core.Sessions;

namespace PackCare.Cli.Importing;

/// <summary>Says to a person what became of each file.</summary>
/// <param name="host">Where to say it.</param>
/// <param name="dryRun">Whether nothing is stored.</param>
internal sealed class ImportText(Host host, bool dryRun)
{
    private const int FirstRows = 3;

    // What a column is: the same for all logs of one kind, while their values differ.
    private static readonly HashSet<string> _aboutColumns =
        ["temperature-by-content", "current-by-elimination", "left-out", "no-numbers", "time-unit-assumed", "charge-unit", "resistance-or-temperature", "share-or-temperature", "voltage-or-temperature", "counter-or-temperature"];

    private readonly Dictionary<string, int> _repeated = [];

    /// <summary>Writes what was understood of one file.</summary>
    public void Write(FileOutcome outcome)
    {
        if (outcome.Status == ImportStatus.Refused)
        {
            return;
        }

        string name = Printable.OneLine(outcome.File);
        if (outcome.Status == ImportStatus.AlreadyImported && !dryRun)
        {
            host.Out.WriteLine($"{name}: imported before, nothing changed");
            return;
        }

        string before = outcome.Status == ImportStatus.AlreadyImported ? ", imported before" : string.Empty;
        host.Out.WriteLine($"{name}: {Figures.Count(outcome.Ledger.Samples, "sample line", "sample lines")}, {Figures.Count(outcome.Sessions.Count, "session", "sessions")}{before}");
        if (dryRun)
        {
            WriteReading(outcome);
        }

        foreach (SessionOutcome session in outcome.Sessions)
        {
            host.Out.WriteLine("  " + Describe(session));
        }

        if (dryRun)
        {
            WriteAdvice(outcome);
        }
    }

    // What to type where the reading is wrong, or says too little.
    private void WriteAdvice(FileOutcome outcome)
    {
        host.Out.WriteLine("  If any of this is wrong: --write-guide FILE writes the reading down to be corrected, --guide FILE reads by it.");
        if (outcome.Sessions.Any(session => session.Match is PackMatch.Unassigned))
        {
            host.Out.WriteLine("  --pack LABEL says whose log it is.");
        }

        if (outcome.Sessions.Any(session => session.Log.TimeQuality is not (TimeQuality.Exact or TimeQuality.Inferred)))
        {
            host.Out.WriteLine("  --started TIME says when it began.");
        }
    }

    /// <summary>
    /// Writes what is wrong with one file, in the form <c>file:line:column: found; advice</c>. A notice on a file as
    /// a whole, or on what a column is, is written for the first file that has it and counted for the others.
    /// </summary>
    public void WriteProblems(FileOutcome outcome)
    {
        foreach (InputProblem problem in outcome.Problems)
        {
            bool general = problem.Level == ProblemLevel.Notice && (problem.Line is null || _aboutColumns.Contains(problem.Code));
            if (general && _repeated.TryGetValue(problem.Found, out int more))
            {
                _repeated[problem.Found] = more + 1;
                continue;
            }

            if (general)
            {
                _repeated[problem.Found] = 0;
            }

            string place = string.Concat(
                outcome.File,
                problem.Line is { } line ? ":" + line.ToString(CultureInfo.InvariantCulture) : string.Empty,
                problem is { Line: not null, Column: { } column } ? ":" + column.ToString(CultureInfo.InvariantCulture) : string.Empty);
            host.Error.WriteLine(Printable.OneLine($"{place}: {(problem.Level == ProblemLevel.Notice ? "note: " : string.Empty)}{problem.Found}; {problem.Advice}"));
        }
    }

    /// <summary>Writes how many more files had the notices that were written once.</summary>
    public void WriteRepeated()
    {
        foreach ((string found, int more) in _repeated.Where(one => one.Value > 0))
        {
            host.Error.WriteLine(Printable.OneLine($"{Figures.Count(more, "more file", "more files")}: note: {found}"));
        }
    }

    /// <summary>Writes the sum of it all.</summary>
    public void WriteTally(ImportTally tally)
    {
        string verb = dryRun ? "Read" : "Imported";
        var parts = new List<string>
        {
            $"{verb} {Figures.Count(tally.Imported, "file", "files")} with {Figures.Count(tally.Sessions, "session", "sessions")} and {tally.Samples.ToString(CultureInfo.InvariantCulture)} samples",
        };
        if (tally.AlreadyImported > 0)
        {
            parts.Add($"{tally.AlreadyImported} imported before");
        }

        if (tally.Refused > 0)
        {
            parts.Add($"{tally.Refused} refused");
        }

        host.Out.WriteLine(string.Join("; ", parts) + (dryRun ? "; nothing was stored." : "."));
        if (tally.Unassigned > 0 && !dryRun)
        {
            host.Out.WriteLine($"{Figures.Count(tally.Unassigned, "session belongs", "sessions belong")} to no pack yet; 'packcare assign' shows {(tally.Unassigned == 1 ? "it" : "them")}.");
        }
    }

    private static string Describe(SessionOutcome outcome)
    {
        SessionSummary summary = outcome.Summary;
        string pack = outcome.Match switch
        {
            PackMatch.Assigned assigned => $"{assigned.Pack.Label} ({assigned.Why})",
            PackMatch.Unassigned { Suggestions: [] } waiting => $"unassigned: {waiting.Why}",
            PackMatch.Unassigned waiting => $"unassigned: {waiting.Why}; could be {string.Join(", ", waiting.Suggestions.Take(3).Select(one => one.Label))}",
            _ => throw new InvalidOperationException("An unheard-of match."),
        };
        string charge = summary.NetChargeAh is { } net ? $", {(net < 0 ? string.Empty : "+")}{Figures.Number(net, 3)} Ah" : string.Empty;
        string spread = summary.RestSpreadMillivolts is { } rest ? $", rest spread {Figures.Number(rest, 0)} mV" : string.Empty;
        string quality = outcome.Log.TimeQuality switch
        {
            TimeQuality.Exact => string.Empty,
            TimeQuality.Inferred => " (time inferred)",
            _ => " (by the file's date)",
        };
        return Printable.OneLine($"{Figures.Moment(outcome.Log.Started)}{quality}  {Words.Of(summary.Kind)}, {Figures.Duration(summary.DurationSeconds)}{charge}{spread}  {pack}");
    }

    private void WriteReading(FileOutcome outcome)
    {
        if (outcome.Reading is not { } reading)
        {
            return;
        }

        host.Out.WriteLine($"  {Words.Of(reading.Layout)} layout, {Name(reading.Delimiter)} between fields, {Name(reading.DecimalMark)} as decimal mark, {reading.Encoding}, time as {reading.TimeBase}");
        PlainTable columns = PlainTable.Make([1, 4], "column", "header", "read as", "unit", "why");
        foreach (ColumnReading column in reading.Columns)
        {
            columns.AddRow(
                PlainTable.Cell(column.Index.ToString(CultureInfo.InvariantCulture)),
                PlainTable.Cell(column.Header ?? Figures.None),
                PlainTable.Cell(Meaning(column)),
                PlainTable.Cell(column.Unit ?? Figures.None),
                PlainTable.Cell(column.Why));
        }

        host.Show(columns);
        foreach (string reason in reading.Reasons)
        {
            host.Out.WriteLine("  - " + Printable.OneLine(reason));
        }

        Ledger ledger = outcome.Ledger;
        host.Out.WriteLine($"  {Figures.Count(ledger.Lines, "line", "lines")}: {ledger.Header} header, {ledger.Units} unit, {ledger.Samples} sample, {ledger.Comments} comment, {ledger.Footer} footer, {ledger.Blank} blank, {ledger.Dropped} dropped");
        if (outcome.Sessions.Count > 0)
        {
            WriteFirstRows(outcome.Sessions[0].Log.Samples);
        }
    }

    private void WriteFirstRows(SampleSeries samples)
    {
        int shown = Math.Min(FirstRows, samples.Count);
        PlainTable rows = PlainTable.Make([.. Enumerable.Range(1, shown)], ["sample", .. Enumerable.Range(1, shown).Select(row => row.ToString(CultureInfo.InvariantCulture))]);
        foreach (Channel channel in samples.Channels)
        {
            rows.AddRow([PlainTable.Cell(Named(channel.Key)), .. channel.ToDecimals().Take(shown).Select(value => PlainTable.Cell(value?.ToString(CultureInfo.InvariantCulture) ?? Figures.None))]);
        }

        host.Out.WriteLine("  first samples as they would be stored:");
        host.Show(rows);
    }

    private static string Named(ChannelKey key) => key.Kind switch
    {
        ChannelKind.Time => "time, s",
        ChannelKind.PackVoltage => "pack voltage, V",
        ChannelKind.CellVoltage => $"cell {key.Index} voltage, V",
        ChannelKind.Current => "current, A",
        ChannelKind.Charge => "charge, Ah",
        ChannelKind.Energy => "energy, Wh",
        ChannelKind.Temperature => $"temperature {key.Index}, °C",
        ChannelKind.CellResistance => $"cell {key.Index} resistance, ohm",
        _ => key.ToString(),
    };

    private static string Meaning(ColumnReading column) =>
        Words.Of(column.Meaning).Replace('-', ' ') + (column.Cell is { } cell ? " " + cell.ToString(CultureInfo.InvariantCulture) : string.Empty);

    private static string Name(char mark) => mark switch
    {
        ',' => "comma",
        ';' => "semicolon",
        '\t' => "tab",
        ' ' => "blanks",
        '.' => "point",
        _ => $"'{mark}'",
    };
}
