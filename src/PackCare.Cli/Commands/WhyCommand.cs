using System.CommandLine;
using PackCare.Analysis;
using PackCare.Cli.Hosting;
using PackCare.Cli.Output;
using PackCare.Store;

namespace PackCare.Cli.Commands;

/// <summary>Explains a standing.</summary>
internal sealed class WhyCommand : PackCareCommand
{
    private readonly Argument<string> _label = MakeLabelArgument();
    private readonly Option<bool> _json = MakeJsonOption();

    /// <summary>Makes the command.</summary>
    public WhyCommand(Host host)
        : base(
            host,
            "why",
            "Explain a pack's standing, evidence by evidence, and say what further reading would settle an open question.",
            "packcare why \"Heron 1\"")
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

        IReadOnlyList<string> reasons = Reasoning.Explain(assessment);
        if (parsed.GetValue(_json))
        {
            JsonText.WriteLine(Host.Out, new { Pack = assessment.Pack.Label, AssessedUtc = JsonText.Utc(assessment.Assessed), assessment.Standing, Reasons = reasons });
            return ExitCode.Done;
        }

        Host.Out.WriteLine(Printable.OneLine($"{assessment.Pack.Label}, {PackText.Describe(assessment.Pack)}, as of {Figures.Moment(assessment.Assessed)}"));
        foreach (string reason in reasons)
        {
            Host.Out.WriteLine();
            Host.Paragraph(reason);
        }

        Host.Out.WriteLine();
        Host.Paragraph(Cautions.Charging);
        return ExitCode.Done;
    }
}
