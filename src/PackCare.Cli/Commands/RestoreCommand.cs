using System.CommandLine;
using PackCare.Cli.Hosting;
using PackCare.Cli.Output;
using PackCare.Store;

namespace PackCare.Cli.Commands;

/// <summary>Puts a backup in the place of the history.</summary>
internal sealed class RestoreCommand : PackCareCommand
{
    private readonly Argument<string> _file = new("FILE") { Description = "A backup; it is not changed" };
    private readonly Option<bool> _replace = new("--replace") { Description = "Replace the history that is there; it is kept beside it under another name" };
    private readonly Option<bool> _json = MakeJsonOption();

    /// <summary>Makes the command.</summary>
    public RestoreCommand(Host host)
        : base(host, "restore", "Put a backup in the place of the history.", "packcare restore /media/stick/packs.db --replace")
    {
        Add(_file);
        Add(_replace);
        Add(_json);
    }

    /// <inheritdoc/>
    protected override int Execute(ParseResult parsed)
    {
        if (Now(parsed) is not { } now)
        {
            return ExitCode.Usage;
        }

        string path = HistoryPath(parsed);
        if (File.Exists(path) && !parsed.GetValue(_replace))
        {
            return Host.Fail(ExitCode.Refused, $"there is a history at {path}; say --replace to put the backup in its place (it is kept beside it under another name).");
        }

        string? aside = HistoryFile.Restore(parsed.GetValue(_file)!, path, parsed.GetValue(_replace), now);
        if (parsed.GetValue(_json))
        {
            JsonText.WriteLine(Host.Out, new { File = path, KeptAside = aside });
        }
        else
        {
            Host.Out.WriteLine($"Restored to {path}.{(aside is null ? string.Empty : $" What was there is kept as {aside}.")}");
        }

        return ExitCode.Done;
    }
}
