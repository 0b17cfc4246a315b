using PackCare.Analysis.Assessments;
using PackCare.Cli.Hosting;

namespace PackCare.Cli.Output;

/// <summary>The due list for a person.</summary>
internal static class DueText
{
    /// <summary>Writes it.</summary>
    public static void Write(Host host, IReadOnlyList<DueItem> due, IReadOnlyList<PackBrief> packs, DateTimeOffset now)
    {
        int inUse = packs.Count(one => one.Pack.Retirement is null);
        HashSet<string> named = [.. due.Select(item => item.PackLabel)];
        host.Out.WriteLine($"Due on {Figures.Moment(now)}: {Figures.Count(named.Count, "pack", "packs")} of {inUse} in use");
        host.Out.WriteLine();
        if (due.Count > 0)
        {
            PlainTable table = PlainTable.Make([1, 2], "urgency", "pack", "what, and what to do");
            foreach (DueItem item in due)
            {
                Look look = StandingStyle.Of(item.Urgency);
                table.AddRow(
                    PlainTable.Cell(Words.Of(item.Urgency).ToUpperInvariant(), look),
                    PlainTable.Cell(item.PackLabel, look),
                    PlainTable.Cell($"{item.Finding.Text} {item.Finding.Action}"));
            }

            host.Show(table);
        }
        else
        {
            host.Out.WriteLine(inUse == 0 ? "No pack is on record; enter one with 'packcare add LABEL --cells N'." : "Nothing on record asks for anything today.");
        }

        host.Out.WriteLine();
        string[] rest = [.. packs
            .Where(one => one.Pack.Retirement is null && !named.Contains(one.Pack.Label))
            .Select(one => $"{one.Pack.Label} ({Words.Of(one.Standing)})")];
        if (rest.Length > 0)
        {
            host.Paragraph("Nothing due: " + string.Join(", ", rest) + ".");
            host.Out.WriteLine();
        }

        host.Paragraph(Cautions.Charging);
    }
}
