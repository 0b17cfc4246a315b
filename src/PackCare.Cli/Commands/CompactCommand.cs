using System.CommandLine;
using PackCare.Cli.Hosting;
using PackCare.Store;

namespace PackCare.Cli.Commands;

/// <summary>Gives up for good what was taken back.</summary>
internal sealed class CompactCommand : PackCareCommand
{
    /// <summary>Makes the command.</summary>
    public CompactCommand(Host host)
        : base(host, "compact", "Give up for good what 'undo' took back, and return its space to the disk.", "packcare compact")
    {
    }

    /// <inheritdoc/>
    protected override int Execute(ParseResult parsed)
    {
        using History history = OpenHistory(parsed, create: false);
        long before = new FileInfo(history.Path).Length;
        history.Compact();
        Host.Out.WriteLine($"{history.Path} has {new FileInfo(history.Path).Length} bytes now, {before} before.");
        return ExitCode.Done;
    }
}
