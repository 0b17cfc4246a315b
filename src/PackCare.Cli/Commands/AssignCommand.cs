using System.CommandLine;
using System.Globalization;
using PackCare.Cli.Hosting;
using PackCare.Cli.Importing;
using PackCare.Cli.Output;
using PackCare.Core.Packs;
using PackCare.Core.Sessions;
using PackCare.Store;

namespace PackCare.Cli.Commands;

/// <summary>Says to which pack a session belongs that did not say so itself.</summary>
internal sealed class AssignCommand : PackCareCommand
{
    private readonly Argument<string?> _label = new("LABEL") { Description = "The pack", Arity = ArgumentArity.ZeroOrOne };
    private readonly Argument<long[]> _sessions = new("SESSION") { Description = "Session numbers, as the list shows them", Arity = ArgumentArity.ZeroOrMore };
    private readonly Option<bool> _json = MakeJsonOption();

    /// <summary>Makes the command.</summary>
    public AssignCommand(Host host)
        : base(
            host,
            "assign",
            "Say which pack unassigned sessions belong to; without arguments, list them with suggestions.",
            "packcare assign",
            "packcare assign \"Heron 1\" 17 18")
    {
        Add(_label);
        Add(_sessions);
        Add(_json);
    }

    /// <inheritdoc/>
    protected override int Execute(ParseResult parsed)
    {
        using History history = OpenHistory(parsed, create: false);
        var waiting = new WaitingSessions(history);
        if (parsed.GetValue(_label) is not { } label)
        {
            Show(waiting.List(), parsed.GetValue(_json));
            return ExitCode.Done;
        }

        long[] sessions = parsed.GetValue(_sessions) ?? [];
        if (sessions.Length == 0)
        {
            return Host.Fail(ExitCode.Usage, $"say which sessions belong to '{label}'; 'packcare assign' lists those that wait.");
        }

        if (FindPack(history, label) is not { } pack)
        {
            return ExitCode.Usage;
        }

        foreach (long session in sessions.Distinct())
        {
            if (Complaint(history, session, pack) is { } complaint)
            {
                return Host.Fail(ExitCode.Refused, complaint);
            }
        }

        int assigned = waiting.Assign(sessions, pack);
        if (parsed.GetValue(_json))
        {
            JsonText.WriteLine(Host.Out, new { Pack = pack.Label, Assigned = assigned });
        }
        else
        {
            Host.Out.WriteLine($"{Figures.Count(assigned, "session belongs", "sessions belong")} to {pack.Label} now.");
        }

        return ExitCode.Done;
    }

    private static string? Complaint(History history, long session, Pack pack) => history.FindSession(session) switch
    {
        null => $"there is no session {session.ToString(CultureInfo.InvariantCulture)}; 'packcare assign' lists those that wait.",
        { PackId: not null } => $"session {session.ToString(CultureInfo.InvariantCulture)} belongs to a pack already; nothing was changed.",
        { } record when !WaitingSessions.Fits(record, pack) => $"session {session.ToString(CultureInfo.InvariantCulture)} shows {record.Summary.Cells.Count} cells and {pack.Label} has {pack.Details.Cells}; nothing was changed.",
        _ => null,
    };

    private void Show(IReadOnlyList<(UnassignedSession Waiting, PackMatch Match)> list, bool json)
    {
        if (json)
        {
            foreach ((UnassignedSession waiting, PackMatch match) in list)
            {
                SessionRecord session = waiting.Session;
                JsonText.WriteLine(Host.Out, new { session.Id, session.FileName, StartedUtc = JsonText.Utc(session.Started), Cells = session.Summary.Cells.Count, waiting.PackHint, Suggestions = Suggestions(match).Select(pack => pack.Label) });
            }

            return;
        }

        if (list.Count == 0)
        {
            Host.Out.WriteLine("Every session belongs to a pack.");
            return;
        }

        PlainTable table = PlainTable.Make([1, 4], "session", "file", "started", "cells", "could be");
        foreach ((UnassignedSession waiting, PackMatch match) in list)
        {
            SessionRecord session = waiting.Session;
            string could = string.Join(", ", Suggestions(match).Take(3).Select(pack => pack.Label));
            table.AddRow(
                PlainTable.Cell(session.Id.ToString(CultureInfo.InvariantCulture)),
                PlainTable.Cell(session.FileName),
                PlainTable.Cell(Figures.Moment(session.Started)),
                PlainTable.Cell(session.Summary.Cells.Count.ToString(CultureInfo.InvariantCulture)),
                PlainTable.Cell(could.Length > 0 ? could : "no pack on record fits"));
        }

        Host.Show(table);
        Host.Out.WriteLine("Assign with 'packcare assign LABEL SESSION...'.");
    }

    private static IReadOnlyList<Pack> Suggestions(PackMatch match) => match switch
    {
        PackMatch.Assigned assigned => [assigned.Pack],
        PackMatch.Unassigned unassigned => unassigned.Suggestions,
        _ => throw new InvalidOperationException("An unheard-of match."),
    };
}
