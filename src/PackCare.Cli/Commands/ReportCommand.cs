using System.CommandLine;
using PackCare.Cli.Hosting;
using PackCare.Cli.Output;
using PackCare.Core.Packs;
using PackCare.Report;
using PackCare.Store;

namespace PackCare.Cli.Commands;

/// <summary>Draws the report.</summary>
internal sealed class ReportCommand : PackCareCommand
{
    private readonly Argument<string[]> _labels = new("LABEL") { Description = "Packs to draw [default: all]", Arity = ArgumentArity.ZeroOrMore };
    private readonly Option<string> _out = new("--out") { Description = "The folder to write into", HelpName = "DIR", DefaultValueFactory = _ => "packcare-report" };
    private readonly Option<bool> _csv = new("--csv") { Description = "Also write every number behind every chart as CSV files, into the folder data" };
    private readonly Option<bool> _png = new("--png") { Description = "Also write every chart as a picture, into the folder pictures" };
    private readonly Option<string?> _dates = MakeDatesOption();
    private readonly Option<bool> _json = MakeJsonOption();

    /// <summary>Makes the command.</summary>
    public ReportCommand(Host host)
        : base(
            host,
            "report",
            "Draw the report: an overview and a page a pack, as HTML files that need nothing else.",
            "packcare report",
            "packcare report Teal \"Heron 1\" --out reports",
            "packcare report --csv --png --dates dmy")
    {
        Add(_labels);
        Add(_out);
        Add(_csv);
        Add(_png);
        Add(_dates);
        Add(_json);
    }

    /// <inheritdoc/>
    protected override int Execute(ParseResult parsed)
    {
        if (DatesInput.Read(parsed.GetValue(_dates), Host) is not { } dates)
        {
            return ExitCode.Usage;
        }

        using History history = OpenHistory(parsed, create: false);
        if (MakeAssessor(parsed, history) is not { } assessor)
        {
            return ExitCode.Usage;
        }

        if (FindPacks(history, parsed.GetValue(_labels) ?? []) is not { } chosen)
        {
            return ExitCode.Usage;
        }

        if (!ReportFolder.IsFree(Path.GetFullPath(parsed.GetValue(_out)!)))
        {
            return Host.Fail(ExitCode.Usage, $"{Path.GetFullPath(parsed.GetValue(_out)!)} holds an {ReportWriter.OverviewFileName} that is not of a report; name another folder with --out.");
        }

        IReadOnlyList<PackHistory> histories = chosen.Count == 0 ? history.LoadAll() : [.. chosen.DistinctBy(pack => pack.Id).Select(history.Load)];
        ReportInput input = ReportMaker.Gather(history, histories, assessor, notice: null) with { Dates = dates };
        string folder = ReportMaker.Made(parsed.GetValue(_out)!);
        IReadOnlyList<string> pages = ReportWriter.Write(input, folder);
        IReadOnlyList<string> tables = parsed.GetValue(_csv) ? ReportData.WriteCsv(input, ReportMaker.Made(folder, "data")) : [];
        IReadOnlyList<string> pictures = parsed.GetValue(_png) ? ReportWriter.WritePng(input, ReportMaker.Made(folder, "pictures")) : [];
        IReadOnlyList<string> removed = ReportFolder.Settle(folder, [.. pages, .. tables, .. pictures]);
        if (parsed.GetValue(_json))
        {
            using var json = new MemoryStream();
            ReportData.WriteJson(input, json, [.. pages, .. tables, .. pictures]);
            Host.Out.WriteLine(System.Text.Encoding.UTF8.GetString(json.GetBuffer(), 0, (int)json.Length));
        }
        else
        {
            string more = (tables.Count > 0 ? $", {Figures.Count(tables.Count, "table", "tables")}" : "") + (pictures.Count > 0 ? $", {Figures.Count(pictures.Count, "picture", "pictures")}" : "");
            Host.Out.WriteLine($"Wrote {Figures.Count(pages.Count, "page", "pages")}{more}; open {pages[0]}");
            if (removed.Count > 0)
            {
                Host.Out.WriteLine($"Removed {Figures.Count(removed.Count, "file", "files")} of an earlier report");
            }
        }

        return ExitCode.Done;
    }
}
