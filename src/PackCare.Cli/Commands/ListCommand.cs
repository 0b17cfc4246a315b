using System.CommandLine;
using PackCare.Analysis.Assessments;
using PackCare.Cli.Hosting;
using PackCare.Cli.Output;
using PackCare.Store;

namespace PackCare.Cli.Commands;

/// <summary>Lists the packs.</summary>
internal sealed class ListCommand : PackCareCommand
{
    private readonly Option<bool> _all = new("--all") { Description = "Include packs that were taken out of use" };
    private readonly Option<bool> _json = MakeJsonOption();

    /// <summary>Makes the command.</summary>
    public ListCommand(Host host)
        : base(host, "list", "List the packs, gravest standing first.", "packcare list", "packcare list --all --json")
    {
        Add(_all);
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

        IReadOnlyList<PackBrief> all = [];
        int waiting = 0;
        history.ReadTogether(() =>
        {
            all = assessor.Briefs(history);
            waiting = history.UnassignedCount();
        });
        assessor.KeepWhatIsNew(history);
        List<PackBrief> packs = [.. all
            .Where(one => one.Pack.Retirement is null || parsed.GetValue(_all))
            .OrderByDescending(one => (int)one.Standing)
            .ThenBy(one => one.Pack.Label, StringComparer.OrdinalIgnoreCase)];
        if (parsed.GetValue(_json))
        {
            foreach (PackBrief pack in packs)
            {
                JsonText.WriteLine(Host.Out, AssessmentJson.Of(pack));
            }

            return ExitCode.Done;
        }

        if (packs.Count == 0)
        {
            Host.Out.WriteLine("No pack is on record; enter one with 'packcare add LABEL --cells N'.");
            return ExitCode.Done;
        }

        Host.Show(MakeTable(packs, assessor.Now));
        Host.Out.WriteLine();
        Host.Paragraph("mV: rest spread. Capacity in % of the rated (or first measured) and resistance as a multiple of the first sessions, of the worst cell, with 95 % intervals; n: the sessions that they rest on. Full: days at full by now. Last: days since the last record.");
        if (waiting > 0)
        {
            Host.Out.WriteLine($"{Figures.Count(waiting, "session belongs", "sessions belong")} to no pack yet; see 'packcare assign'.");
        }

        return ExitCode.Done;
    }

    private static PlainTable MakeTable(List<PackBrief> packs, DateTimeOffset now)
    {
        PlainTable table = PlainTable.Make([0], "pack", "standing", "mV", "capacity %", "n", "resistance x", "n", "full", "last");
        foreach (PackBrief pack in packs)
        {
            string standing = pack.Pack.Retirement is null ? Words.Of(pack.Standing) : "out of use";
            table.AddRow(
                PlainTable.Cell(pack.Pack.Label),
                PlainTable.Cell(standing, StandingStyle.Of(pack)),
                PlainTable.Cell(Figures.Of(pack.RestSpreadMillivolts, 0, string.Empty)),
                PlainTable.Cell(Figures.Tight(pack.HealthPercent, 0)),
                PlainTable.Cell(Figures.Sessions(pack.HealthPercent)),
                PlainTable.Cell(Figures.Tight(pack.ResistanceRatio, 2)),
                PlainTable.Cell(Figures.Sessions(pack.ResistanceRatio)),
                PlainTable.Cell(Figures.Of(pack.CurrentSpell?.Days, 1, string.Empty)),
                PlainTable.Cell(Figures.Of((now - pack.LastRecord)?.TotalDays, 0, string.Empty)));
        }

        return table;
    }
}
