using PackCare.Analysis;
using PackCare.Analysis.Assessments;
using PackCare.Core.Packs;
using PackCare.Core.Sessions;
using PackCare.Report;
using PackCare.Store;

namespace PackCare.Cli.Commands;

/// <summary>Brings history, analysis and report together.</summary>
internal static class ReportMaker
{
    /// <summary>What a report of the given packs is made of.</summary>
    public static ReportInput Gather(History history, IReadOnlyList<PackHistory> histories, Assessor assessor, string? notice)
    {
        IReadOnlyList<PackAssessment> assessments = assessor.Assess(histories);
        var packs = new List<ReportPack>();
        foreach ((PackHistory pack, PackAssessment assessment) in histories.Zip(assessments))
        {
            SessionRecord? charge = pack.Sessions.LastOrDefault(session => session.Summary.Kind == SessionKind.Charge && session.Started <= assessor.Now);
            packs.Add(new ReportPack(assessment, pack, charge, charge is null ? null : history.LoadSamples(charge.Id)));
        }

        return new ReportInput(assessor.Now, packs, DueList.Build(assessments), notice);
    }

    /// <summary>The full path of a folder, which is made where there is none.</summary>
    public static string Made(params string[] folder) => Directory.CreateDirectory(Path.GetFullPath(Path.Combine(folder))).FullName;
}
