using System.CommandLine;
using PackCare.Cli.Hosting;
using PackCare.Cli.Output;
using PackCare.Store;

namespace PackCare.Cli.Commands;

/// <summary>Shows one pack.</summary>
internal sealed class ShowCommand : PackCareCommand
{
    private readonly Argument<string> _label = MakeLabelArgument();
    private readonly Option<bool> _json = MakeJsonOption();

    /// <summary>Makes the command.</summary>
    public ShowCommand(Host host)
        : base(host, "show", "Show all that is concluded about one pack.", "packcare show \"Heron 1\"", "packcare show Teal --json")
    {
        Add(_label);
        Add(_json);
    }

    /// <inheritdoc/>
    protected override int Execute(ParseResult parsed)
    {
        using History history = OpenHistory(parsed, create: false);
        if (Assess(parsed, history, parsed.GetValue(_label)!) is not { } assessment)
        {
            return ExitCode.Usage;
        }

        if (parsed.GetValue(_json))
        {
            JsonText.WriteLine(Host.Out, AssessmentJson.Of(assessment));
        }
        else
        {
            PackPage.Write(Host, assessment);
        }

        return ExitCode.Done;
    }
}
