using System.CommandLine;
using System.Globalization;
using PackCare.Cli.Hosting;
using PackCare.Cli.Output;
using PackCare.Core.Packs;
using PackCare.Report;
using PackCare.Store;

namespace PackCare.Cli.Commands;

/// <summary>Draws stickers for packs.</summary>
internal sealed class LabelsCommand : PackCareCommand
{
    private readonly Argument<string[]> _labels = new("LABEL") { Description = "Packs to make a sticker for [default: all that are in use]", Arity = ArgumentArity.ZeroOrMore };
    private readonly Option<string> _out = new("--out") { Description = "The file to write", HelpName = "FILE", DefaultValueFactory = _ => "packcare-labels.html" };
    private readonly Option<string> _sheet = new("--sheet")
    {
        Description = "Stickers on an A4 sheet: 3x7 (63.5 x 38.1 mm), 3x8 (70 x 37), 2x7 (99.1 x 38.1), 5x13 (38.1 x 21.2), or any other as COLUMNSxROWS:WIDTHxHEIGHT+GAP in mm",
        HelpName = "FORMAT",
        DefaultValueFactory = _ => "3x7",
    };

    private readonly Option<int> _skip = new("--skip") { Description = "How many places of the first sheet are used up", HelpName = "N" };
    private readonly Option<bool> _outline = new("--outline") { Description = "Print a fine line around each sticker, to cut plain paper along" };
    private readonly Option<string?> _dates = MakeDatesOption();
    private readonly Option<bool> _json = MakeJsonOption();

    /// <summary>Makes the command.</summary>
    public LabelsCommand(Host host)
        : base(
            host,
            "labels",
            "Draw a sticker a pack, with a QR code of its label, as an HTML file to print on A4 sheets.",
            "packcare labels",
            "packcare labels \"Boat 1\" \"Boat 2\" --sheet 3x8 --skip 5",
            "packcare labels --sheet 4x10:48.5x25.4 --out stickers.html")
    {
        Add(_labels);
        Add(_out);
        Add(_sheet);
        Add(_skip);
        Add(_outline);
        Add(_dates);
        Add(_json);
    }

    /// <inheritdoc/>
    protected override int Execute(ParseResult parsed)
    {
        string sheet = parsed.GetValue(_sheet)!;
        if (SheetFormat.Parse(sheet) is not { } format)
        {
            return Host.Fail(ExitCode.Usage, $"--sheet '{sheet}' is no format that fits A4 with stickers of at least 30 x 18 mm; write {string.Join(", ", SheetFormat.Known.Keys)}, or a grid like 4x10:48.5x25.4 (columns x rows : width x height in mm).");
        }

        int skip = parsed.GetValue(_skip);
        if (skip < 0 || skip >= format.Places)
        {
            return Host.Fail(ExitCode.Usage, $"--skip {Number(skip)}: a sheet of this format has {Number(format.Places)} places, so skip 0 to {Number(format.Places - 1)}.");
        }

        if (DatesInput.Read(parsed.GetValue(_dates), Host) is not { } dates)
        {
            return ExitCode.Usage;
        }

        using History history = OpenHistory(parsed, create: false);
        if (Choose(parsed, history) is not { } packs)
        {
            return ExitCode.Usage;
        }

        if (packs.Count == 0)
        {
            return Host.Fail(ExitCode.Usage, "no pack is in use; enter one with 'packcare add LABEL --cells N', or name one that is out of use.");
        }

        string path = Path.GetFullPath(parsed.GetValue(_out)!);
        if (File.Exists(path) && !LabelWriter.Made(path))
        {
            return Host.Fail(ExitCode.Usage, $"{path} is there already and was not made by this command; name another file with --out.");
        }

        var input = new LabelInput(packs, format, skip, dates, parsed.GetValue(_outline));
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        LabelWriter.Write(input, path);
        Say(parsed, input, path);
        return ExitCode.Done;
    }

    private IReadOnlyList<LabelPack>? Choose(ParseResult parsed, History history)
    {
        // One named twice gets two stickers: packs have two sides.
        string[] labels = parsed.GetValue(_labels) ?? [];
        IReadOnlyList<Pack>? packs = labels.Length > 0
            ? FindPacks(history, labels)
            : [.. history.Packs().Where(pack => pack.Retirement is null).OrderBy(pack => pack.Label, StringComparer.OrdinalIgnoreCase)];
        IReadOnlyDictionary<long, DateTimeOffset> uses = history.FirstUses();
        return packs is null ? null : [.. packs.Select(pack => new LabelPack(pack, uses.TryGetValue(pack.Id, out DateTimeOffset first) ? DateOnly.FromDateTime(first.DateTime) : null))];
    }

    private void Say(ParseResult parsed, LabelInput input, string path)
    {
        if (parsed.GetValue(_json))
        {
            SheetFormat format = input.Format;
            JsonText.WriteLine(Host.Out, new
            {
                File = path,
                Sheet = new { format.Columns, format.Rows, format.WidthMillimetres, format.HeightMillimetres, format.GapMillimetres },
                input.Skip,
                input.Sheets,
                Labels = input.Packs.Select(pack => new
                {
                    Pack = pack.Pack.Label,
                    pack.Pack.Details.Cells,
                    pack.Pack.Details.Parallel,
                    pack.Pack.Details.Chemistry,
                    CapacityAh = pack.Pack.Details.RatedCapacity?.Value,
                    FirstUse = pack.FirstUse?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
                    Bought = pack.Pack.Details.Bought?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
                }),
            });
            return;
        }

        Host.Out.WriteLine($"Wrote {Figures.Count(input.Packs.Count, "label", "labels")} on {Figures.Count(input.Sheets, "sheet", "sheets")}; open {path} and print it at 100 %, without margins");
    }

    private static string Number(int number) => number.ToString(CultureInfo.InvariantCulture);
}
