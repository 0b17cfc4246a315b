using System.CommandLine;
using PackCare.Analysis;
using PackCare.Analysis.Assessments;
using PackCare.Cli.Hosting;
using PackCare.Cli.Output;
using PackCare.Store;

namespace PackCare.Cli.Commands;

/// <summary>Says what needs doing.</summary>
internal sealed class DueCommand : PackCareCommand
{
    private readonly Option<bool> _exitCode = new("--exit-code") { Description = "End with 4 where something is overdue" };
    private readonly Option<bool> _json = MakeJsonOption();

    /// <summary>Makes the command.</summary>
    public DueCommand(Host host)
        : base(host, "due", "Say what needs doing, most urgent first.", "packcare due", "packcare due --exit-code --json")
    {
        Add(_exitCode);
        Add(_json);
    }

    /// <inheritdoc/>
    protected override int Execute(ParseResult parsed)
    {
        using History history = OpenHistory(parsed, create: false);
        if (MakeAssessor(parsed, history) is not { } assessor)
        {
            return ExitCode.Usage;
        }

        IReadOnlyList<PackBrief> packs = [];
        history.ReadTogether(() => packs = assessor.Briefs(history));
        assessor.KeepWhatIsNew(history);
        IReadOnlyList<DueItem> due = DueList.Build(packs);
        if (parsed.GetValue(_json))
        {
            foreach (DueItem item in due)
            {
                JsonText.WriteLine(Host.Out, AssessmentJson.Of(item));
            }
        }
        else
        {
            DueText.Write(Host, due, packs, assessor.Now);
        }

        return parsed.GetValue(_exitCode) && due.Any(item => item.Urgency <= DueUrgency.Overdue) ? ExitCode.Overdue : ExitCode.Done;
    }
}
