using System.CommandLine;
using System.Runtime.InteropServices;
using PackCare.Cli.Hosting;
using PackCare.Cli.Importing;
using PackCare.Cli.Output;
using PackCare.Import;
using PackCare.Store;

namespace PackCare.Cli.Commands;

/// <summary>Imports new exports as they are finished being written.</summary>
internal sealed class WatchCommand : PackCareCommand
{
    private readonly Argument<string> _folder = new("DIR") { Description = "The folder that exports are written to" };
    private readonly Option<double?> _every = new("--every") { Description = "Seconds from one look to the next [default: 2]", HelpName = "SECONDS", CustomParser = NumberInput.Parse };
    private readonly Option<string?> _zone = MakeZoneOption();
    private readonly Option<bool> _json = MakeJsonOption();

    /// <summary>Makes the command.</summary>
    public WatchCommand(Host host)
        : base(
            host,
            "watch",
            "Import new exports of a folder as they are finished being written, until stopped (Ctrl-C).",
            "packcare watch ~/charge-logs")
    {
        Add(_folder);
        Add(_every);
        Add(_zone);
        Add(_json);
    }

    /// <inheritdoc/>
    protected override int Execute(ParseResult parsed)
    {
        string folder = parsed.GetValue(_folder)!;
        if (Zone(parsed.GetValue(_zone)) is not { } zone)
        {
            return ExitCode.Usage;
        }

        if (!Directory.Exists(folder))
        {
            return Host.Fail(ExitCode.Refused, $"there is no folder {folder}; check the path.");
        }

        double every = parsed.GetValue(_every) ?? 2;
        if (every is not (>= 0.1 and <= 3600))
        {
            return Host.Fail(ExitCode.Usage, "--every takes 0.1 to 3600 seconds.");
        }

        using var stop = new CancellationTokenSource();
        using PosixSignalRegistration terminate = PosixSignalRegistration.Create(PosixSignal.SIGTERM, Stop);
        using PosixSignalRegistration interrupt = PosixSignalRegistration.Create(PosixSignal.SIGINT, Stop);
        void Stop(PosixSignalContext context)
        {
            context.Cancel = true;
            stop.Cancel();
        }

        // The history is opened for each batch only, so that it can be backed up or moved in between.
        IReadOnlyList<StoredGuide> guides;
        using (History history = OpenHistory(parsed, create: true))
        {
            guides = history.Guides();
        }

        var files = new FinishedFiles(folder);
        var settings = new ImportSettings(null, new ReadOptions(null, zone), new GuideShelf(null, Path.GetDirectoryName(HistoryPath(parsed)), guides));
        bool known = false;
        Say(parsed, new { Watching = folder }, $"Watching {folder}; Ctrl-C stops.");
        while (!stop.IsCancellationRequested)
        {
            IReadOnlyList<LogFile> finished = files.Look();
            try
            {
                Import(parsed, finished, settings, ref known, stop.Token);
            }
            catch (HistoryException fault)
            {
                // Another program holds it, or a disk is full: that passes, and what was stored meanwhile is known by its bytes.
                Host.Fail(ExitCode.History, fault.Message + " Trying again.");
                files.TakeBack(finished);
            }

            stop.Token.WaitHandle.WaitOne(TimeSpan.FromSeconds(every));
        }

        Say(parsed, new { Stopped = folder }, "Stopped.");
        return ExitCode.Done;
    }

    private void Import(ParseResult parsed, IReadOnlyList<LogFile> files, ImportSettings settings, ref bool known, CancellationToken stop)
    {
        if (files.Count == 0)
        {
            return;
        }

        using History history = OpenHistory(parsed, create: true);
        var importer = new Importer(history, settings, Host.Clock);
        var text = new ImportText(Host, dryRun: false);
        bool first = !known;
        foreach (FileOutcome outcome in files.TakeWhile(_ => !stop.IsCancellationRequested).SelectMany(importer.Import))
        {
            // After a start again, the folder is full of what was imported before; nobody wants a line for each.
            if (first && outcome.Status == ImportStatus.AlreadyImported)
            {
                continue;
            }

            if (parsed.GetValue(_json))
            {
                JsonText.WriteLine(Host.Out, ImportJson.Of(outcome, dryRun: false));
            }
            else if (outcome.Status != ImportStatus.Refused)
            {
                string packs = string.Join(", ", outcome.Sessions.Select(session => session.Pack?.Label ?? "unassigned").Distinct());
                Host.Out.WriteLine(Printable.OneLine($"{outcome.File}: {Words.Of(outcome.Status)}{(packs.Length > 0 ? ", " + packs : string.Empty)}"));
            }

            text.WriteProblems(outcome);
            Host.Out.Flush();
        }

        known = true;
    }

    private void Say(ParseResult parsed, object json, string sentence)
    {
        if (parsed.GetValue(_json))
        {
            JsonText.WriteLine(Host.Out, json);
        }
        else
        {
            Host.Out.WriteLine(sentence);
        }

        Host.Out.Flush();
    }
}
