using System.CommandLine;
using PackCare.Analysis;
using PackCare.Analysis.Assessments;
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
        if (MakeAssessor(parsed, history) is not { } assessor || FindPack(history, parsed.GetValue(_label)!) is not { } pack)
        {
            return ExitCode.Usage;
        }

        PackAssessment assessment = assessor.Assess(history.Load(pack));
        IReadOnlyList<string> reasons = Reasoning.Explain(assessment);
        if (parsed.GetValue(_json))
        {
            JsonText.WriteLine(Host.Out, new { Pack = pack.Label, AssessedUtc = JsonText.Utc(assessment.Assessed), assessment.Standing, Reasons = reasons });
            return ExitCode.Done;
        }

        Host.Out.WriteLine(Printable.OneLine($"{pack.Label}, {PackText.Describe(pack)}, as of {Figures.Moment(assessment.Assessed)}"));
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
