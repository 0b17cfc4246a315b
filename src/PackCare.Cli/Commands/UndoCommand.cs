using System.CommandLine;
using PackCare.Cli.Hosting;
using PackCare.Cli.Output;
using PackCare.Store;

namespace PackCare.Cli.Commands;

/// <summary>Takes back the last change, or puts back the last that was taken back.</summary>
internal sealed class UndoCommand : PackCareCommand
{
    private readonly Option<bool> _back = new("--redo") { Description = "Put back the last change that was taken back" };
    private readonly Option<bool> _json = MakeJsonOption();

    /// <summary>Makes the command.</summary>
    public UndoCommand(Host host)
        : base(
            host,
            "undo",
            "Take back the last import or entry. It can be put back until 'packcare compact'.",
            "packcare undo",
            "packcare undo --redo")
    {
        Add(_back);
        Add(_json);
    }

    /// <inheritdoc/>
    protected override int Execute(ParseResult parsed)
    {
        using History history = OpenHistory(parsed, create: false);
        bool redo = parsed.GetValue(_back);
        Change? change = redo ? Redo(history) : history.Undo();
        if (change is null)
        {
            return Host.Fail(ExitCode.Refused, redo ? "nothing was taken back." : "there is nothing to take back.");
        }

        if (parsed.GetValue(_json))
        {
            JsonText.WriteLine(Host.Out, new { change.Id, change.Kind, change.Subject, change.Undone });
        }
        else
        {
            Host.Out.WriteLine(Printable.OneLine($"{(redo ? "Put back" : "Took back")}: {Describe(change)}{(redo ? "." : "; 'packcare undo --redo' puts it back.")}"));
        }

        return ExitCode.Done;
    }

    // Changes are taken back latest first, so the earliest of them was taken back last.
    private static Change? Redo(History history) =>
        history.UndoneChanges() is [.., var lastTakenBack] ? history.Redo(lastTakenBack.Id) : null;

    private static string Describe(Change change) => change.Kind switch
    {
        ChangeKind.Pack => $"the pack {change.Subject}",
        ChangeKind.Import => $"the import of {change.Subject}",
        ChangeKind.Assignment => $"an assignment to {change.Subject}",
        ChangeKind.SpotCheck => $"a spot check of {change.Subject}",
        ChangeKind.Entry => $"a diary entry on {change.Subject}",
        ChangeKind.Retirement => $"that {change.Subject} is out of use",
        _ => throw new ArgumentOutOfRangeException(nameof(change)),
    };
}
