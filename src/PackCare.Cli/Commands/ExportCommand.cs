using System.CommandLine;
using System.Globalization;
using PackCare.Cli.Hosting;
using PackCare.Cli.Output;
using PackCare.Store;

namespace PackCare.Cli.Commands;

/// <summary>Writes the whole history to open files.</summary>
internal sealed class ExportCommand : PackCareCommand
{
    private readonly Argument<string> _folder = new("DIR") { Description = "A folder that is not there yet, or empty" };
    private readonly Option<bool> _json = MakeJsonOption();

    /// <summary>Makes the command.</summary>
    public ExportCommand(Host host)
        : base(
            host,
            "export",
            "Write the whole history to a folder of CSV and JSON files that 'packcare import' takes in again.",
            "packcare export my-packs",
            "packcare import my-packs --history new.db")
    {
        Add(_folder);
        Add(_json);
    }

    /// <inheritdoc/>
    protected override int Execute(ParseResult parsed)
    {
        using History history = OpenHistory(parsed, create: false);
        string folder = Path.GetFullPath(parsed.GetValue(_folder)!);
        ExportReport report = HistoryFile.Export(history, folder);
        foreach (long session in report.SessionsLeftOut)
        {
            Host.Error.WriteLine($"session {session.ToString(CultureInfo.InvariantCulture)}: its samples are damaged and it was left out; see 'packcare doctor'");
        }

        if (parsed.GetValue(_json))
        {
            JsonText.WriteLine(Host.Out, new { Folder = folder, report.Packs, report.Sessions, report.SessionsLeftOut });
        }
        else
        {
            Host.Out.WriteLine($"Exported {Figures.Count((int)report.Packs, "pack", "packs")} and {Figures.Count((int)report.Sessions, "session", "sessions")} to {folder}.");
        }

        return report.SessionsLeftOut.Count == 0 ? ExitCode.Done : ExitCode.Refused;
    }
}
