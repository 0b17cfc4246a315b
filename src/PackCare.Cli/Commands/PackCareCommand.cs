using System.CommandLine;
using PackCare.Analysis.Assessments;
using PackCare.Cli.Hosting;
using PackCare.Cli.Output;
using PackCare.Core.Packs;
using PackCare.Store;

namespace PackCare.Cli.Commands;

/// <summary>What all commands share: examples, the clock, the history, and how they fail.</summary>
internal abstract class PackCareCommand : Command
{
    /// <summary>Names the command.</summary>
    protected PackCareCommand(Host host, string name, string description, params string[] examples)
        : base(name, description)
    {
        Host = host;
        Examples = examples;
        SetAction(Execute);
    }

    /// <summary>Command lines that show it in use.</summary>
    public IReadOnlyList<string> Examples { get; }

    /// <summary>The outside world.</summary>
    protected Host Host { get; }

    /// <summary>Runs it.</summary>
    /// <returns>The exit code.</returns>
    protected abstract int Execute(ParseResult parsed);

    /// <summary>Makes the <c>--json</c> option.</summary>
    protected static Option<bool> MakeJsonOption() => new("--json") { Description = "Print JSON for programs, one value a line" };

    /// <summary>Makes the <c>LABEL</c> argument.</summary>
    protected static Argument<string> MakeLabelArgument() => new("LABEL") { Description = "The pack's label" };

    /// <summary>Makes an option for a moment.</summary>
    protected static Option<string?> MakeMomentOption(string name, string description) => new(name) { Description = description, HelpName = "TIME" };

    /// <summary>Makes the <c>--dates</c> option.</summary>
    protected static Option<string?> MakeDatesOption() =>
        new("--dates") { Description = "How dates are written on pages: iso (2026-03-04), dmy (4 Mar 2026) or mdy (Mar 4, 2026) [default: $PACKCARE_DATES, else iso]", HelpName = "ORDER" };

    /// <summary>Makes the <c>--zone</c> option.</summary>
    protected static Option<string?> MakeZoneOption() =>
        new("--zone") { Description = "The zone of times that state no offset, for instance Europe/Lisbon or UTC [default: this machine's]", HelpName = "TZ" };

    /// <summary>The moment to judge by; null, with the reason said, where it was mistyped.</summary>
    protected DateTimeOffset? Now(ParseResult parsed) =>
        Moment(parsed.GetValue(GlobalOptions.Now), "--now", TimeZoneInfo.Local, Host.Clock.GetLocalNow());

    /// <summary>A moment from an option, or the given one where it is not set; null, with the reason said, where it was mistyped.</summary>
    protected DateTimeOffset? Moment(string? text, string option, TimeZoneInfo zone, DateTimeOffset otherwise)
    {
        if (text is null)
        {
            return otherwise;
        }

        if (TimeInput.TryMoment(text, zone, out DateTimeOffset moment))
        {
            return moment;
        }

        Host.Fail(ExitCode.Usage, $"{option} '{text}' is not a moment (or the clocks changed then); {TimeInput.Advice}.");
        return null;
    }

    /// <summary>A moment that is not ahead of now; null, with the reason said, where it is or was mistyped.</summary>
    protected DateTimeOffset? PastMoment(ParseResult parsed, Option<string?> at, Option<string?> zone)
    {
        if (Now(parsed) is not { } now || Zone(parsed.GetValue(zone)) is not { } where || Moment(parsed.GetValue(at), at.Name, where, now) is not { } moment)
        {
            return null;
        }

        if (moment <= now)
        {
            return moment;
        }

        Host.Fail(ExitCode.Usage, $"{at.Name} {Figures.Moment(moment)} lies ahead of now, {Figures.Moment(now)}; enter it once it has happened.");
        return null;
    }

    /// <summary>The zone from an option, or this machine's; null, with the reason said, where there is none of that name.</summary>
    protected TimeZoneInfo? Zone(string? name)
    {
        if (name is null)
        {
            return TimeZoneInfo.Local;
        }

        if (TimeInput.TryZone(name, out TimeZoneInfo zone))
        {
            return zone;
        }

        Host.Fail(ExitCode.Usage, $"--zone '{name}' is not a zone that this machine knows; write it like Europe/Lisbon or UTC.");
        return null;
    }

    /// <summary>Where the history is, or would be.</summary>
    /// <exception cref="HistoryException">The machine names no folder for it.</exception>
    protected string HistoryPath(ParseResult parsed) =>
        HistoryLocation.Resolve(parsed.GetValue(GlobalOptions.History), Host)
        ?? throw new HistoryException(HistoryFault.Missing, "this machine names no folder for user data; say which file to use with --history FILE.");

    /// <summary>Opens the history.</summary>
    /// <exception cref="HistoryException">It cannot be used, or there is none and <paramref name="create"/> is false.</exception>
    protected History OpenHistory(ParseResult parsed, bool create) => History.Open(HistoryPath(parsed), create);

    /// <summary>
    /// Who judges packs by the limits and the moment that were asked for; null, with the reason said, where either is no good.
    /// A clock that is behind the record is remarked on, since judging by it leaves the latest records out.
    /// </summary>
    /// <param name="parsed">The command line.</param>
    /// <param name="history">The history.</param>
    /// <param name="only">The pack that it is about, or null where it is about all.</param>
    protected Assessor? MakeAssessor(ParseResult parsed, History history, Pack? only = null)
    {
        if (Now(parsed) is not { } now || LimitsFile.Read(parsed.GetValue(GlobalOptions.Limits), history, Host) is not { } limits)
        {
            return null;
        }

        // Who names a moment means it.
        if (parsed.GetValue(GlobalOptions.Now) is null && history.LatestAfter(now, only?.Id) is { } latest)
        {
            Host.Error.WriteLine(
                $"packcare: note: by this machine's clock it is {Figures.Moment(now)}, and there are records up to {Figures.Moment(latest.ToOffset(now.Offset))}; "
                + "they are kept, but nothing after the clock's time is judged; check the clock, or the dates of those records.");
        }

        return new Assessor(limits, now);
    }

    /// <summary>Judges one pack; null, with the reason said, where there is none of that label or the limits are no good.</summary>
    protected PackAssessment? Assess(ParseResult parsed, History history, string label) =>
        FindPack(history, label) is { } pack && MakeAssessor(parsed, history, pack) is { } assessor ? assessor.Assess(history.Load(pack)) : null;

    /// <summary>Finds packs, in the order named; null, with the reason said, where one of the labels is of none.</summary>
    protected IReadOnlyList<Pack>? FindPacks(History history, IReadOnlyList<string> labels)
    {
        var packs = new List<Pack>();
        foreach (string label in labels)
        {
            if (FindPack(history, label) is not { } pack)
            {
                return null;
            }

            packs.Add(pack);
        }

        return packs;
    }

    /// <summary>Finds a pack; null, with the reason said, where there is none of that label.</summary>
    protected Pack? FindPack(History history, string label)
    {
        if (history.FindPack(label) is { } pack)
        {
            return pack;
        }

        string known = string.Join(", ", history.Packs().Select(one => one.Label));
        Host.Fail(
            ExitCode.Usage,
            known.Length == 0
                ? $"there is no pack '{label}' on record, nor any other; enter it with 'packcare add \"{label}\" --cells N'."
                : $"there is no pack '{label}' on record; known: {known}; enter a new one with 'packcare add \"{label}\" --cells N'.");
        return null;
    }
}
