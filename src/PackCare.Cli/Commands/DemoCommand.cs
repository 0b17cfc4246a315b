using System.CommandLine;
using PackCare.Analysis.Assessments;
using PackCare.Analysis.Limits;
using PackCare.Cli.Demo;
using PackCare.Cli.Hosting;
using PackCare.Cli.Importing;
using PackCare.Cli.Output;
using PackCare.Core.Packs;
using PackCare.Import;
using PackCare.Report;
using PackCare.Store;

namespace PackCare.Cli.Commands;

/// <summary>Plays the whole main job on invented logs.</summary>
internal sealed class DemoCommand : PackCareCommand
{
    private readonly Argument<string?> _folder = new("DIR") { Description = "Where to put the demo's history and report [default: packcare-demo-<you> in the folder for temporary files]", Arity = ArgumentArity.ZeroOrOne };

    /// <summary>Makes the command.</summary>
    public DemoCommand(Host host)
        : base(
            host,
            "demo",
            "Import the invented sample logs into a fresh history, print the due list and draw the report.",
            "packcare demo",
            "packcare demo my-demo")
        => Add(_folder);

    /// <inheritdoc/>
    protected override int Execute(ParseResult parsed)
    {
        if (DemoFolder.FindLogs() is not { } logs)
        {
            return Host.Fail(ExitCode.Usage, "the sample logs were not found; run the demo inside a clone of the repository.");
        }

        FleetFile fleet = FleetFile.Read(Path.Combine(logs, FleetFile.Name));
        if (Moment(parsed.GetValue(GlobalOptions.Now), "--now", TimeZoneInfo.Local, fleet.Now) is not { } now)
        {
            return ExitCode.Usage;
        }

        if (DatesInput.Read(option: null, Host) is not { } dates)
        {
            return ExitCode.Usage;
        }

        string folder = Path.GetFullPath(parsed.GetValue(_folder) ?? DemoFolder.Default);
        Directory.CreateDirectory(folder);
        string file = Path.Combine(folder, "history.db");
        foreach (string old in new[] { file, file + "-wal", file + "-shm" })
        {
            File.Delete(old);
        }

        using History history = History.Open(file, create: true);
        EnterPacks(history, fleet);
        ImportTally tally = ImportLogs(history, logs);
        EnterDiary(history, fleet);

        Host.Out.WriteLine(fleet.About);
        new ImportText(Host, dryRun: false).WriteTally(tally);
        Host.Out.WriteLine($"The clock of this demo stands at {Figures.Moment(now)}.");
        Host.Out.WriteLine();
        var assessor = new Assessor(LimitSettings.None, now);
        ReportInput report = ReportMaker.Gather(history, history.LoadAll(), assessor, fleet.About) with { Dates = dates };
        DueText.Write(Host, report.Due, [.. report.Packs.Select(pack => PackBrief.Of(pack.Assessment))], now);
        string pagesFolder = ReportMaker.Made(folder, "report");
        IReadOnlyList<string> pages = ReportWriter.Write(report, pagesFolder);
        ReportFolder.Settle(pagesFolder, pages);
        Host.Out.WriteLine();
        Host.Out.WriteLine($"History: {file}");
        Host.Out.WriteLine($"Report:  {pages[0]}");
        return tally.Refused > 0 ? ExitCode.Refused : ExitCode.Done;
    }

    private static void EnterPacks(History history, FleetFile fleet)
    {
        foreach (FleetPack pack in fleet.Packs)
        {
            DateTimeOffset added = pack.Bought is { } bought ? new DateTimeOffset(bought, TimeOnly.MinValue, DemoZone.Instance.GetUtcOffset(bought.ToDateTime(TimeOnly.MinValue))) : fleet.Now;
            _ = history.AddPack(pack.ToDetails(), added) ?? throw new IOException($"The demo roster names '{pack.Label}' twice.");
        }
    }

    private static void EnterDiary(History history, FleetFile fleet)
    {
        Pack Find(string label) => history.FindPack(label) ?? throw new IOException($"The demo roster speaks of '{label}', which is not among its packs.");

        foreach (FleetSpotCheck check in fleet.SpotChecks)
        {
            history.AddSpotCheck(Find(check.Pack).Id, new SpotCheck(0, check.At, check.Volts, check.Celsius, check.Milliohms ?? []));
        }

        foreach (FleetEntry entry in fleet.Entries)
        {
            history.AddEntry(Find(entry.Pack).Id, new DiaryEntry(0, entry.At, entry.Kind, entry.Swollen, entry.Damaged, entry.MaxCelsius, entry.Text));
        }
    }

    private ImportTally ImportLogs(History history, string logs)
    {
        var importer = new Importer(history, new ImportSettings(null, new ReadOptions(null, DemoZone.Instance), new GuideShelf(null, null, [])), Host.Clock);
        var tally = new ImportTally();
        var text = new ImportText(Host, dryRun: false);
        ImportProgress.Run(Host.ProgressScreen(), [.. LogFinder.Find([logs])], (found, problem) =>
        {
            foreach (FileOutcome outcome in problem is null ? importer.Import(found) : [FileOutcome.Refused(found.Shown, null, [problem])])
            {
                tally.Count(outcome);
                text.WriteProblems(outcome);
            }
        });
        text.WriteRepeated();
        return tally;
    }
}
