using System.CommandLine;
using PackCare.Cli.Hosting;
using PackCare.Cli.Output;
using PackCare.Core.Packs;
using PackCare.Store;

namespace PackCare.Cli.Commands;

/// <summary>Writes down what no log shows.</summary>
internal sealed class LogCommand : PackCareCommand
{
    private readonly Argument<string> _label = MakeLabelArgument();
    private readonly Argument<string> _kind = new("KIND") { Description = "run, storage, inspection or note" };
    private readonly Option<string?> _at = MakeMomentOption("--at", "When it was [default: now]");
    private readonly Option<string?> _zone = MakeZoneOption();
    private readonly Option<bool> _swollen = new("--swollen") { Description = "The pack was seen to be swollen" };
    private readonly Option<bool> _damaged = new("--damaged") { Description = "The pack was seen to be damaged" };
    private readonly Option<double?> _celsius = new("--max-temp") { Description = "The highest temperature seen, in degrees Celsius", HelpName = "C", CustomParser = NumberInput.Parse };
    private readonly Option<string?> _text = new("--text") { Description = "Anything worth keeping", HelpName = "TEXT" };
    private readonly Option<bool> _json = MakeJsonOption();

    /// <summary>Makes the command.</summary>
    public LogCommand(Host host)
        : base(
            host,
            "log",
            "Write down a run, that a pack was brought to storage level, what an inspection showed, or a note.",
            "packcare log \"Heron 1\" run --max-temp 48",
            "packcare log Teal inspection --swollen --text \"soft to the touch\"",
            "packcare log Teal storage --at 2026-03-31T19:00")
    {
        Add(_label);
        Add(_kind);
        foreach (Option option in new Option[] { _at, _zone, _swollen, _damaged, _celsius, _text, _json })
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

        EntryKind? kind = Enum.GetValues<EntryKind>().Cast<EntryKind?>()
            .FirstOrDefault(one => Words.Of(one!.Value).Equals(parsed.GetValue(_kind), StringComparison.OrdinalIgnoreCase));
        if (kind is null)
        {
            return Host.Fail(ExitCode.Usage, $"'{parsed.GetValue(_kind)}' is not something to log; give {string.Join(", ", Enum.GetValues<EntryKind>().Select(one => Words.Of(one)))}.");
        }

        using History history = OpenHistory(parsed, create: false);
        if (FindPack(history, parsed.GetValue(_label)!) is not { } pack || MakeAssessor(parsed, history, pack) is not { } assessor)
        {
            return ExitCode.Usage;
        }

        DiaryEntry entry = history.AddEntry(pack.Id, new DiaryEntry(
            0, at, kind.Value, parsed.GetValue(_swollen), parsed.GetValue(_damaged), parsed.GetValue(_celsius), parsed.GetValue(_text)));
        if (parsed.GetValue(_json))
        {
            JsonText.WriteLine(Host.Out, new { entry.Id, Pack = pack.Label, entry.Kind, AtUtc = JsonText.Utc(entry.At), entry.Swollen, entry.Damaged, entry.MaxCelsius, entry.Text });
            return ExitCode.Done;
        }

        Host.Out.WriteLine($"Entered for {Printable.OneLine(pack.Label)}: {Words.Of(entry.Kind)} at {Figures.Moment(at)}.");
        if (entry.Swollen || entry.Damaged)
        {
            StandingText.WriteBrief(Host, assessor.Assess(history.Load(pack)));
        }

        return ExitCode.Done;
    }
}
