using PackCare.Analysis.Assessments;
using PackCare.Analysis.Tests.Support;
using PackCare.Core.Packs;

namespace PackCare.Analysis.Tests.Reasons;

public sealed class ReasoningTests
{
    [Fact]
    public void A_sound_pack_is_never_called_free_of_danger()
    {
        string text = Explain(new SimulatedLife().Repeat(6, life => life.Charge().Discharge().Store().Rest(8)).Assess());

        Assert.Contains("stands at sound", text, StringComparison.Ordinal);
        Assert.Contains("not to say that it is free of danger", text, StringComparison.Ordinal);
        Assert.DoesNotContain("is safe", text, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void A_new_pack_is_told_what_to_log()
    {
        string text = Explain(new SimulatedLife().Charge().Assess());

        Assert.Contains("stands at unknown", text, StringComparison.Ordinal);
        Assert.Contains("Log further charges", text, StringComparison.Ordinal);
        Assert.Contains("One logged discharge", text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_stopped_pack_comes_with_disposal_and_the_finding_with_its_evidence()
    {
        string text = Explain(new SimulatedLife().Repeat(2, life => life.Charge().Store().Rest(8)).Write(EntryKind.Inspection, swollen: true).Assess());

        Assert.Contains("Stop, swollen", text, StringComparison.Ordinal);
        Assert.Contains("Disposal: do not discharge or open", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Sentences_never_hold_placeholders_or_figures_that_are_none()
    {
        PackAssessment[] packs =
        [
            new SimulatedLife().Assess(),
            new SimulatedLife(cells: 1).Repeat(2, life => life.Charge().Rest(3)).Assess(),
            new SimulatedLife(cells: 2, vary: (i, cell) => i == 0 ? cell with { InitialStateOfCharge = 0.4 } : cell).Repeat(6, life => life.Charge(balance: false).Store().Rest(3)).Assess(),
            new SimulatedLife().Check().Rest(100).Check().Assess(),
        ];

        Assert.All(packs.SelectMany(Reasoning.Explain), sentence =>
        {
            Assert.DoesNotContain("NaN", sentence, StringComparison.Ordinal);
            Assert.DoesNotContain("∞", sentence, StringComparison.Ordinal);
            Assert.DoesNotContain("  ", sentence, StringComparison.Ordinal);
            Assert.DoesNotContain('\n', sentence);
        });
    }

    private static string Explain(PackAssessment assessment) => string.Join("\n", Reasoning.Explain(assessment));
}
