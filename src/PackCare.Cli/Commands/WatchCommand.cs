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
    // Short, since it tries again by itself and a signal is not to wait for it.
    private static readonly TimeSpan _patience = TimeSpan.FromSeconds(2);

    private readonly Argument<string> _folder = new("DIR") { Description = "The folder that exports are written to" };
    private readonly Option<double?> _every = new("--every") { Description = "Seconds from one look to the next [default: 2]", HelpName = "SECONDS", CustomParser = NumberInput.Parse };
    private readonly Option<double?> _settle = new("--settle") { Description = "Seconds that a file must have stood still [default: 10]", HelpName = "SECONDS", CustomParser = NumberInput.Parse };
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
        Add(_settle);
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
        double settle = parsed.GetValue(_settle) ?? 10;
        if (every is not (>= 0.1 and <= 3600) || settle is not (>= 0.1 and <= 86_400))
        {
            return Host.Fail(ExitCode.Usage, "--every takes 0.1 to 3600 seconds, --settle 0.1 to 86400.");
        }

        using var stop = new CancellationTokenSource();
        using PosixSignalRegistration terminate = PosixSignalRegistration.Create(PosixSignal.SIGTERM, Stop);
        using PosixSignalRegistration interrupt = PosixSignalRegistration.Create(PosixSignal.SIGINT, Stop);
        void Stop(PosixSignalContext context)
        {
            context.Cancel = true;
            stop.Cancel();
        }

        var files = new FinishedFiles(folder, TimeSpan.FromSeconds(settle), Host.Clock);
        var watch = new FolderWatch(Host, folder, files, () => History.Open(HistoryPath(parsed), create: true, _patience), new ReadOptions(null, zone), outcome => Report(parsed, outcome));
        watch.Begin();
        Say(parsed, new { Watching = folder }, $"Watching {folder}; Ctrl-C stops.");
        while (!stop.IsCancellationRequested)
        {
            watch.Look(stop.Token);
            stop.Token.WaitHandle.WaitOne(TimeSpan.FromSeconds(every));
        }

        Say(parsed, new { Stopped = folder }, "Stopped.");
        return ExitCode.Done;
    }

    private void Report(ParseResult parsed, FileOutcome outcome)
    {
        if (parsed.GetValue(_json))
        {
            JsonText.WriteLine(Host.Out, ImportJson.Of(outcome, dryRun: false));
        }
        else if (outcome.Status != ImportStatus.Refused)
        {
            string packs = string.Concat(outcome.Sessions.Select(session => session.Pack?.Label).OfType<string>().Distinct().Select(label => ", " + label));
            string waits = outcome.Sessions.Any(session => session.Pack is null) ? "; 'packcare assign' shows what waits for its pack" : string.Empty;
            Host.Out.WriteLine(Printable.OneLine($"{outcome.File}: {Words.Of(outcome.Status)}{packs}{waits}"));
        }

        new ImportText(Host, dryRun: false).WriteProblems(outcome);
        Host.Out.Flush();
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
