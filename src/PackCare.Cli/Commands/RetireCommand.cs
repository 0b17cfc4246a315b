using System.CommandLine;
using PackCare.Cli.Hosting;
using PackCare.Cli.Output;
using PackCare.Core.Packs;
using PackCare.Store;

namespace PackCare.Cli.Commands;

/// <summary>Takes a pack out of use.</summary>
internal sealed class RetireCommand : PackCareCommand
{
    private readonly Argument<string> _label = MakeLabelArgument();
    private readonly Option<string> _reason = new("--reason") { Description = "Why", HelpName = "TEXT", Required = true };
    private readonly Option<bool> _json = MakeJsonOption();

    /// <summary>Makes the command.</summary>
    public RetireCommand(Host host)
        : base(
            host,
            "retire",
            "Take a pack out of use. It stays on record and leaves the due list.",
            "packcare retire Teal --reason \"swollen\"")
    {
        Add(_label);
        Add(_reason);
        Add(_json);
    }

    /// <inheritdoc/>
    protected override int Execute(ParseResult parsed)
    {
        if (Now(parsed) is not { } now)
        {
            return ExitCode.Usage;
        }

        using History history = OpenHistory(parsed, create: false);
        if (FindPack(history, parsed.GetValue(_label)!) is not { } pack)
        {
            return ExitCode.Usage;
        }

        if (pack.Retirement is { } earlier)
        {
            return Host.Fail(ExitCode.Refused, $"{pack.Label} was taken out of use on {Figures.Day(earlier.At)} already ({earlier.Reason}).");
        }

        history.Retire(pack.Id, new Retirement(now, parsed.GetValue(_reason)!));
        if (parsed.GetValue(_json))
        {
            JsonText.WriteLine(Host.Out, PackJson.Of(history.FindPack(pack.Label)!));
            return ExitCode.Done;
        }

        Host.Out.WriteLine($"{Printable.OneLine(pack.Label)} is out of use from {Figures.Moment(now)}; it stays on record.");
        Host.Out.WriteLine(Cautions.Disposal);
        return ExitCode.Done;
    }
}
