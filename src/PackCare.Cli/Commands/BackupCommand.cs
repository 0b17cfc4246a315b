using System.CommandLine;
using PackCare.Cli.Hosting;
using PackCare.Cli.Output;
using PackCare.Store;

namespace PackCare.Cli.Commands;

/// <summary>Copies the history while it is in use.</summary>
internal sealed class BackupCommand : PackCareCommand
{
    private readonly Argument<string> _file = new("FILE") { Description = "Where the copy goes" };
    private readonly Option<bool> _replace = new("--replace") { Description = "Replace a file of that name" };
    private readonly Option<bool> _json = MakeJsonOption();

    /// <summary>Makes the command.</summary>
    public BackupCommand(Host host)
        : base(host, "backup", "Copy the history to one file, also while it is in use, and verify the copy.", "packcare backup /media/stick/packs.db")
    {
        Add(_file);
        Add(_replace);
        Add(_json);
    }

    /// <inheritdoc/>
    protected override int Execute(ParseResult parsed)
    {
        using History history = OpenHistory(parsed, create: false);
        string target = Path.GetFullPath(parsed.GetValue(_file)!);
        HealthReport health = HistoryFile.Backup(history, target, parsed.GetValue(_replace));
        if (parsed.GetValue(_json))
        {
            JsonText.WriteLine(Host.Out, HealthJson.Of(target, health));
        }
        else
        {
            Host.Out.WriteLine($"Copied {Figures.Count((int)health.Packs, "pack", "packs")} and {Figures.Count((int)health.Sessions, "session", "sessions")} to {target}, and verified the copy.");
        }

        return HealthText.WriteComplaints(Host, health) ? ExitCode.Done : ExitCode.Refused;
    }
}
