using System.CommandLine;
using System.Globalization;
using PackCare.Cli.Hosting;
using PackCare.Cli.Importing;
using PackCare.Cli.Output;
using PackCare.Core.Packs;
using PackCare.Core.Units;
using PackCare.Store;

namespace PackCare.Cli.Commands;

/// <summary>Enters a pack.</summary>
internal sealed class AddCommand : PackCareCommand
{
    private const int MostCells = 24;
    private const int LongestLabel = 60;

    private readonly Argument<string> _label = MakeLabelArgument();
    private readonly Option<int> _cells = new("--cells") { Description = "Cells in series (the S count), 1 to 24", HelpName = "N", Required = true };
    private readonly Option<int> _parallel = new("--parallel") { Description = "Cells in parallel (the P count)", HelpName = "N", DefaultValueFactory = _ => 1 };
    private readonly Option<double?> _capacity = new("--capacity") { Description = "Capacity in mAh as printed on the pack", HelpName = "MAH", CustomParser = NumberInput.Parse };
    private readonly Option<string> _chemistry = new("--chemistry") { Description = "lipo, lihv, liion or lifepo4", HelpName = "NAME", DefaultValueFactory = _ => "lipo" };
    private readonly Option<double?> _rating = new("--rating") { Description = "Printed discharge rating (the C figure)", HelpName = "C", CustomParser = NumberInput.Parse };
    private readonly Option<string?> _bought = new("--bought") { Description = "Day of purchase, like 2026-03-31", HelpName = "DATE" };
    private readonly Option<decimal?> _price = new("--price") { Description = "What it cost", HelpName = "AMOUNT", CustomParser = NumberInput.ParseMoney };
    private readonly Option<string?> _currency = new("--currency") { Description = "Currency of the price, ISO 4217, like EUR", HelpName = "CODE" };
    private readonly Option<string?> _vehicle = new("--vehicle") { Description = "Where it is used", HelpName = "TEXT" };
    private readonly Option<string?> _connector = new("--connector") { Description = "Its connector", HelpName = "TEXT" };
    private readonly Option<bool> _json = MakeJsonOption();

    /// <summary>Makes the command.</summary>
    public AddCommand(Host host)
        : base(
            host,
            "add",
            "Enter a pack. Sessions that were waiting for it are assigned at once.",
            "packcare add \"Heron 1\" --cells 4 --capacity 5000",
            "packcare add Teal --cells 3 --capacity 2200 --chemistry lihv --bought 2026-03-31 --price 34.50 --currency EUR")
    {
        Add(_label);
        foreach (Option option in new Option[] { _cells, _parallel, _capacity, _chemistry, _rating, _bought, _price, _currency, _vehicle, _connector, _json })
        {
            Add(option);
        }
    }

    /// <inheritdoc/>
    protected override int Execute(ParseResult parsed)
    {
        if (Now(parsed) is not { } now || ReadDetails(parsed) is not { } details)
        {
            return ExitCode.Usage;
        }

        using History history = OpenHistory(parsed, create: true);
        if (history.AddPack(details, now) is not { } pack)
        {
            return Host.Fail(ExitCode.Usage, $"a pack '{details.Label}' is on record already; choose another label.");
        }

        int assigned = new WaitingSessions(history).AssignMatching(pack);
        if (parsed.GetValue(_json))
        {
            JsonText.WriteLine(Host.Out, PackJson.Of(pack));
            return ExitCode.Done;
        }

        Host.Out.WriteLine($"Entered {Printable.OneLine(pack.Label)}, {PackText.Describe(pack)}.");
        if (assigned > 0)
        {
            Host.Out.WriteLine($"{Figures.Count(assigned, "session that was", "sessions that were")} waiting for it {(assigned == 1 ? "is" : "are")} now assigned.");
        }

        return ExitCode.Done;
    }

    private PackDetails? ReadDetails(ParseResult parsed)
    {
        string label = parsed.GetValue(_label)!.Trim();
        int cells = parsed.GetValue(_cells);
        int parallel = parsed.GetValue(_parallel);
        double? capacity = parsed.GetValue(_capacity);
        double? rating = parsed.GetValue(_rating);
        decimal? price = parsed.GetValue(_price);
        string? currency = parsed.GetValue(_currency)?.ToUpperInvariant();
        string? wrong =
            label.Length is 0 or > LongestLabel || Printable.OneLine(label) != label ? $"a label has 1 to {LongestLabel} printable characters"
            : cells is < 1 or > MostCells ? $"--cells {cells} is out of range; a pack has 1 to {MostCells} cells in series"
            : parallel is < 1 or > 100 ? $"--parallel {parallel} is out of range; give 1 to 100"
            : capacity is not null and not (>= 10 and <= 1_000_000) ? "--capacity is in mAh, 10 to 1000000"
            : rating is not null and not (> 0 and <= 1000) ? "--rating is a C figure above 0, at most 1000"
            : price < 0 ? "--price cannot be negative"
            : currency is not null && (currency.Length != 3 || !currency.All(char.IsAsciiLetter)) ? $"--currency '{currency}' is not an ISO 4217 code like EUR"
            : null;
        Chemistry? chemistry = Enum.GetValues<Chemistry>().Cast<Chemistry?>()
            .FirstOrDefault(one => Words.Of(one!.Value).Equals(parsed.GetValue(_chemistry), StringComparison.OrdinalIgnoreCase));
        if (chemistry is null)
        {
            wrong ??= $"--chemistry '{parsed.GetValue(_chemistry)}' is not known; give {string.Join(", ", Enum.GetValues<Chemistry>().Select(Words.Of))}";
        }

        DateOnly? bought = null;
        if (parsed.GetValue(_bought) is { } text)
        {
            if (DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly day))
            {
                bought = day;
            }
            else
            {
                wrong ??= $"--bought '{text}' is not a date; write it like 2026-03-31";
            }
        }

        if (wrong is not null)
        {
            Host.Fail(ExitCode.Usage, wrong + ".");
            return null;
        }

        return new PackDetails(
            label,
            cells,
            parallel,
            chemistry!.Value,
            capacity is { } mah ? AmpereHours.FromMilliampereHours(mah) : null,
            rating,
            bought,
            price,
            currency,
            parsed.GetValue(_vehicle),
            parsed.GetValue(_connector));
    }
}
