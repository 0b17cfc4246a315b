using System.CommandLine;
using PackCare.Cli.Hosting;
using PackCare.Cli.Importing;
using PackCare.Cli.Output;
using PackCare.Core.Packs;
using PackCare.Core.Reading;
using PackCare.Import;
using PackCare.Import.Guides;
using PackCare.Store;

namespace PackCare.Cli.Commands;

/// <summary>Takes logs into the history.</summary>
internal sealed class ImportCommand : PackCareCommand
{
    private readonly Argument<string[]> _paths = new("PATH") { Description = "Log files, or folders that hold them", Arity = ArgumentArity.OneOrMore };
    private readonly Option<string?> _pack = new("--pack") { Description = "The pack that all of it belongs to [default: as the log or its file name says]", HelpName = "LABEL" };
    private readonly Option<string?> _started = MakeMomentOption("--started", "When the session began, for a log that does not say");
    private readonly Option<string?> _zone = MakeZoneOption();
    private readonly Option<string?> _guide = new("--guide") { Description = "A reading guide that fixes how the files are read [default: those named *.guide.json beside them or beside the history, or kept with 'packcare guide', that apply]", HelpName = "FILE" };
    private readonly Option<string?> _writeGuide = new("--write-guide") { Description = "With --dry-run and one file: write the reading as a guide to edit", HelpName = "FILE" };
    private readonly Option<bool> _dryRun = new("--dry-run") { Description = "Show how each file would be read and why; store nothing" };
    private readonly Option<bool> _allowTruncated = new("--allow-truncated") { Description = "Drop a last line that was cut off, and say so, instead of refusing the file" };
    private readonly Option<bool> _json = MakeJsonOption();

    /// <summary>Makes the command.</summary>
    public ImportCommand(Host host)
        : base(
            host,
            "import",
            "Import charge logs. A file is taken whole or refused with a line number; the same file twice changes nothing.",
            "packcare import sample-logs",
            "packcare import --dry-run charge-2026-03-31.csv",
            "packcare import --dry-run odd.csv --write-guide odd.guide.json",
            "packcare import charge.csv --pack \"Heron 1\" --started 2026-03-31T18:20")
    {
        Add(_paths);
        foreach (Option option in new Option[] { _pack, _guide, _started, _zone, _dryRun, _writeGuide, _allowTruncated, _json })
        {
            Add(option);
        }
    }

    /// <inheritdoc/>
    protected override int Execute(ParseResult parsed)
    {
        if (Now(parsed) is null || Zone(parsed.GetValue(_zone)) is not { } zone
            || Moment(parsed.GetValue(_started), "--started", zone, DateTimeOffset.MinValue) is not { } started)
        {
            return ExitCode.Usage;
        }

        if (parsed.GetValue(_paths) is [var only] && HistoryFile.IsExport(only))
        {
            return TakeIn(only, parsed);
        }

        bool dryRun = parsed.GetValue(_dryRun);
        if (parsed.GetValue(_writeGuide) is not null && !dryRun)
        {
            return Host.Fail(ExitCode.Usage, "--write-guide goes with --dry-run.");
        }

        ReadingGuide? guide = null;
        if (parsed.GetValue(_guide) is { } guidePath)
        {
            guide = GuideShelf.ReadFile(guidePath, Host);
            if (guide is null)
            {
                return ExitCode.Usage;
            }
        }

        using History? history = OpenFor(parsed, dryRun);
        Pack? pack = null;
        if (parsed.GetValue(_pack) is { } label)
        {
            if (history is null)
            {
                return Host.Fail(ExitCode.Usage, $"there is no pack '{label}' on record, nor any history yet; enter it with 'packcare add \"{label}\" --cells N'.");
            }

            pack = FindPack(history, label);
            if (pack is null)
            {
                return ExitCode.Usage;
            }
        }

        var settings = new ImportSettings(pack, new ReadOptions(started == DateTimeOffset.MinValue ? null : started, zone, parsed.GetValue(_allowTruncated)), new GuideShelf(guide, history is null ? null : Path.GetDirectoryName(history.Path), history?.Guides() ?? []), dryRun);
        var importer = new Importer(history, settings, Host.Clock);
        bool json = parsed.GetValue(_json);
        var text = new ImportText(Host, dryRun);
        var tally = new ImportTally();
        var outcomes = new List<FileOutcome>();
        ImportProgress.Run(Host.ProgressScreen(), [.. LogFinder.Find(parsed.GetValue(_paths)!)], (file, problem) =>
        {
            foreach (FileOutcome outcome in problem is null ? importer.Import(file) : [FileOutcome.Refused(file.Shown, null, [problem])])
            {
                tally.Count(outcome);
                if (json)
                {
                    JsonText.WriteLine(Host.Out, ImportJson.Of(outcome, dryRun));
                }
                else
                {
                    text.Write(outcome);
                }

                text.WriteProblems(outcome);
                outcomes.Add(outcome with { Sessions = [] });
            }
        });
        text.WriteRepeated();
        if (!json)
        {
            text.WriteTally(tally);
        }

        return parsed.GetValue(_writeGuide) is { } target ? WriteGuide(target, outcomes)
            : tally.Refused > 0 ? ExitCode.Refused
            : ExitCode.Done;
    }

    private int WriteGuide(string target, List<FileOutcome> outcomes)
    {
        if (outcomes is not [{ Reading: { } reading } only])
        {
            return Host.Fail(ExitCode.Refused, "--write-guide takes one file of which a reading can be shown.");
        }

        if (File.Exists(target))
        {
            return Host.Fail(ExitCode.Usage, $"{target} is there already and was left as it is; name another file, or delete it.");
        }

        InputProblem? refusal = only.Problems.FirstOrDefault(problem => problem.Level == ProblemLevel.Refusal);
        File.WriteAllText(target, GuideFile.Write(ReadingGuide.Of(reading, Path.GetFileName(only.File), refusal)) + "\n");
        Host.Error.WriteLine(refusal is null ? $"Wrote the reading as a guide to {target}." : $"Wrote what is sure of the reading as a guide to {target}; what the message above asks for is not in it yet.");
        Host.Error.WriteLine($"Edit it, then try it: packcare import --dry-run \"{only.File}\" --guide \"{target}\"");
        return only.Status == ImportStatus.Refused ? ExitCode.Refused : ExitCode.Done;
    }

    private int TakeIn(string folder, ParseResult parsed)
    {
        string path = HistoryPath(parsed);
        if (File.Exists(path))
        {
            return Host.Fail(ExitCode.Refused, $"{folder} is a whole exported history, and there is one at {path}; name a new file with --history FILE.");
        }

        HistoryFile.Import(folder, path);
        using History history = History.Open(path, create: false);
        if (parsed.GetValue(_json))
        {
            JsonText.WriteLine(Host.Out, new { File = folder, History = path, Packs = history.Packs().Count, Sessions = history.SessionIds().Count });
        }
        else
        {
            Host.Out.WriteLine($"Took in {Figures.Count(history.Packs().Count, "pack", "packs")} and {Figures.Count(history.SessionIds().Count, "session", "sessions")} from {folder} to {path}.");
        }

        return ExitCode.Done;
    }

    // A dry run is of use before there is any history.
    private History? OpenFor(ParseResult parsed, bool dryRun)
    {
        try
        {
            return OpenHistory(parsed, create: !dryRun);
        }
        catch (HistoryException fault) when (dryRun && fault.Fault == HistoryFault.Missing)
        {
            return null;
        }
    }
}
