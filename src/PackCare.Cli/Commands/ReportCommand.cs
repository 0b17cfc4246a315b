using System.CommandLine;
using PackCare.Cli.Hosting;
using PackCare.Cli.Output;
using PackCare.Core.Packs;
using PackCare.Store;

namespace PackCare.Cli.Commands;

/// <summary>Draws the report.</summary>
internal sealed class ReportCommand : PackCareCommand
{
    private readonly Argument<string[]> _labels = new("LABEL") { Description = "Packs to draw [default: all]", Arity = ArgumentArity.ZeroOrMore };
    private readonly Option<string> _out = new("--out") { Description = "The folder to write into", HelpName = "DIR", DefaultValueFactory = _ => "packcare-report" };
    private readonly Option<bool> _json = MakeJsonOption();

    /// <summary>Makes the command.</summary>
    public ReportCommand(Host host)
        : base(
            host,
            "report",
            "Draw the report: an overview and a page a pack, as HTML files that need nothing else.",
            "packcare report",
            "packcare report Teal \"Heron 1\" --out reports")
    {
        Add(_labels);
        Add(_out);
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

        var chosen = new List<Pack>();
        foreach (string label in parsed.GetValue(_labels) ?? [])
        {
            if (FindPack(history, label) is not { } pack)
            {
                return ExitCode.Usage;
            }

            chosen.Add(pack);
        }

        IReadOnlyList<PackHistory> histories = chosen.Count == 0 ? history.LoadAll() : [.. chosen.DistinctBy(pack => pack.Id).Select(history.Load)];
        IReadOnlyList<string> files = ReportMaker.Write(history, histories, assessor, notice: null, parsed.GetValue(_out)!);
        if (parsed.GetValue(_json))
        {
            JsonText.WriteLine(Host.Out, new { Files = files });
        }
        else
        {
            Host.Out.WriteLine($"Wrote {Figures.Count(files.Count, "page", "pages")}; open {files[0]}");
        }

        return ExitCode.Done;
    }
}
