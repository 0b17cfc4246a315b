using PackCare.Analysis.Assessments;
using PackCare.Cli.Hosting;

namespace PackCare.Cli.Output;

/// <summary>Says where a pack stands.</summary>
internal static class StandingText
{
    /// <summary>What a standing means.</summary>
    public static string Meaning(Standing standing) => standing switch
    {
        Standing.Sound => "nothing on record speaks against it",
        Standing.Unknown => "too little on record to tell",
        Standing.Watch => "something is past its watch limit",
        Standing.Retire => "plan to take it out of use",
        Standing.Stop => "do not charge or use it",
        _ => throw new ArgumentOutOfRangeException(nameof(standing)),
    };

    /// <summary>One line on the standing, one on its gravest finding.</summary>
    public static void WriteBrief(Host host, PackAssessment assessment)
    {
        host.Out.WriteLine($"Standing: {Words.Of(assessment.Standing)} - {Meaning(assessment.Standing)}.");
        if (assessment.Findings.FirstOrDefault(finding => finding.Level != FindingLevel.Note) is { } gravest)
        {
            host.Out.WriteLine(Printable.OneLine($"{gravest.Text} {gravest.Action}"));
        }
    }
}
