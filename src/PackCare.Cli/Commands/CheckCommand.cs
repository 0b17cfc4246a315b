using System.CommandLine;
using PackCare.Cli.Hosting;
using PackCare.Cli.Output;
using PackCare.Core.Packs;
using PackCare.Store;

namespace PackCare.Cli.Commands;

/// <summary>Enters a spot check.</summary>
internal sealed class CheckCommand : PackCareCommand
{
    private const double MostCellVolts = 5;
    private const double LowestCelsius = -60;
    private const double HighestCelsius = 150;

    private readonly Argument<string> _label = MakeLabelArgument();
    private readonly Argument<string[]> _volts = new("VOLTS") { Description = "One voltage a cell, in cell order, in volts", Arity = ArgumentArity.OneOrMore };
    private readonly Option<string?> _at = MakeMomentOption("--at", "When it was read [default: now]");
    private readonly Option<string?> _zone = MakeZoneOption();
    private readonly Option<double?> _celsius = new("--temp") { Description = "Temperature of the pack in degrees Celsius", HelpName = "C", CustomParser = NumberInput.Parse };
    private readonly Option<string?> _milliohms = new("--ir") { Description = "Resistances as an instrument stated them, in mOhm, separated by commas", HelpName = "M1,M2,..." };
    private readonly Option<bool> _json = MakeJsonOption();

    /// <summary>Makes the command.</summary>
    public CheckCommand(Host host)
        : base(
            host,
            "check",
            "Enter a spot check: the cell voltages of a pack at rest.",
            "packcare check \"Heron 1\" 3.84 3.85 3.84 3.79",
            "packcare check Teal 3.80 3.80 3.81 --ir 4.1,4.0,4.6 --temp 21.5 --at 2026-03-31T18:20")
    {
        Add(_label);
        Add(_volts);
        foreach (Option option in new Option[] { _at, _zone, _celsius, _milliohms, _json })
        {
            Add(option);
        }
    }

    /// <inheritdoc/>
    protected override int Execute(ParseResult parsed)
    {
        if (PastMoment(parsed, _at, _zone) is not { } at)
        {
            return ExitCode.Usage;
        }

        using History history = OpenHistory(parsed, create: false);
        if (FindPack(history, parsed.GetValue(_label)!) is not { } pack || MakeAssessor(parsed, history, pack) is not { } assessor)
        {
            return ExitCode.Usage;
        }

        if (Figs(parsed.GetValue(_volts)!, "voltage", pack, MostCellVolts, "in volts, like 3.85") is not { } volts
            || Figs(parsed.GetValue(_milliohms)?.Split(',') ?? [], "resistance", pack, 10_000, "in mOhm, like 4.1", optional: true) is not { } milliohms)
        {
            return ExitCode.Usage;
        }

        double? celsius = parsed.GetValue(_celsius);
        if (celsius is < LowestCelsius or > HighestCelsius)
        {
            return Host.Fail(ExitCode.Usage, "--temp is out of range; give degrees Celsius.");
        }

        SpotCheck check = history.AddSpotCheck(pack.Id, new SpotCheck(0, at, volts, celsius, milliohms));
        double spread = (volts.Max() - volts.Min()) * 1000;
        if (parsed.GetValue(_json))
        {
            JsonText.WriteLine(Host.Out, new { check.Id, Pack = pack.Label, AtUtc = JsonText.Utc(at), Millivolts = volts.Select(volt => volt * 1000), SpreadMillivolts = spread });
            return ExitCode.Done;
        }

        Host.Out.WriteLine($"Entered for {Printable.OneLine(pack.Label)} at {Figures.Moment(at)}: lowest cell {Figures.Number(volts.Min(), 3)} V, highest {Figures.Number(volts.Max(), 3)} V, spread {Figures.Number(spread, 0)} mV.");
        StandingText.WriteBrief(Host, assessor.Assess(history.Load(pack)));
        return ExitCode.Done;
    }

    private List<double>? Figs(string[] texts, string noun, Pack pack, double most, string form, bool optional = false)
    {
        if (texts.Length == 0 && optional)
        {
            return [];
        }

        if (texts.Length != pack.Details.Cells)
        {
            Host.Fail(ExitCode.Usage, $"{pack.Label} has {pack.Details.Cells} cells and {Figures.Count(texts.Length, noun + " was", noun + "s were")} given; give one {noun} a cell.");
            return null;
        }

        var figures = new List<double>();
        foreach (string text in texts)
        {
            if (!NumberInput.TryRead(text, out double figure) || figure < 0 || figure > most)
            {
                Host.Fail(ExitCode.Usage, $"'{text}' is not a {noun} {form}.");
                return null;
            }

            figures.Add(figure);
        }

        return figures;
    }
}
