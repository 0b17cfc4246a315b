using System.CommandLine;
using System.CommandLine.Help;
using PackCare.Cli.Commands;
using PackCare.Cli.Hosting;
using PackCare.Store;

namespace PackCare.Cli;

/// <summary>The program: parses, runs one command, and turns whatever goes wrong into one sentence and an exit code.</summary>
internal static class App
{
    private static readonly IReadOnlyList<CommandEntry> _commands =
    [
        new("demo", host => new DemoCommand(host)),
        new("add", host => new AddCommand(host)),
        new("import", host => new ImportCommand(host)),
        new("watch", host => new WatchCommand(host)),
        new("assign", host => new AssignCommand(host)),
        new("check", host => new CheckCommand(host)),
        new("log", host => new LogCommand(host)),
        new("list", host => new ListCommand(host)),
        new("show", host => new ShowCommand(host)),
        new("why", host => new WhyCommand(host)),
        new("due", host => new DueCommand(host)),
        new("report", host => new ReportCommand(host)),
        new("labels", host => new LabelsCommand(host)),
        new("retire", host => new RetireCommand(host)),
        new("guide", host => new GuideCommand(host)),
        new("undo", host => new UndoCommand(host)),
        new("backup", host => new BackupCommand(host)),
        new("restore", host => new RestoreCommand(host)),
        new("export", host => new ExportCommand(host)),
        new("doctor", host => new DoctorCommand(host)),
        new("drawn", host => new DrawnCommand(host)),
        new("recompute", host => new RecomputeCommand(host)),
        new("compact", host => new CompactCommand(host)),
    ];

    /// <summary>Runs the program once.</summary>
    public static int Run(IReadOnlyList<string> arguments, Host host)
    {
        try
        {
            ParseResult parsed = MakeRoot(arguments, host).Parse(arguments);
            if (parsed.Errors.Count > 0 && parsed.Action is not HelpAction and not ExamplesHelpAction)
            {
                string what = string.Join(" ", parsed.Errors.Select(error => error.Message));
                return host.Fail(ExitCode.Usage, $"{what} See 'packcare {CommandPath(parsed)}--help'.");
            }

            return parsed.Invoke(new InvocationConfiguration { EnableDefaultExceptionHandler = false, Output = host.Out, Error = host.Error });
        }
        catch (HistoryException fault)
        {
            return Explain(host, ExitCode.History, fault.Message, fault);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return Explain(host, ExitCode.Refused, fault.Message, fault);
        }
        catch (OperationCanceledException fault)
        {
            return Explain(host, ExitCode.Refused, "stopped; whole files already imported are kept, run the same command again for the rest", fault);
        }
#pragma warning disable CA1031 // The one place where a bug becomes a sentence instead of a stack trace.
        catch (Exception fault)
#pragma warning restore CA1031
        {
            return Explain(
                host,
                ExitCode.Bug,
                $"this is a bug in packcare ({fault.GetType().Name}: {fault.Message}); the history holds only whole entries and is not harmed; set PACKCARE_TRACE=1 to see where it happened",
                fault);
        }
    }

    private static RootCommand MakeRoot(IReadOnlyList<string> arguments, Host host)
    {
        var root = new RootCommand("PackCare keeps the record of your LiPo packs: it reads charge logs with per-cell voltages, and says which pack needs what today, which one drifts and why, and which one to retire.")
        {
            GlobalOptions.History,
            GlobalOptions.Now,
            GlobalOptions.Limits,
        };
        foreach (PackCareCommand command in Named(arguments, host))
        {
            root.Add(command);
        }

        HelpOption help = root.Options.OfType<HelpOption>().Single();
        var standard = (HelpAction)help.Action!;
        standard.MaxWidth = host.OutWidth;
        help.Action = new ExamplesHelpAction(standard);
        root.SetAction(((ExamplesHelpAction)help.Action).Invoke);
        return root;
    }

    // Where the first word names a command, the others need not be made: that would be most of the time to start.
    private static IEnumerable<PackCareCommand> Named(IReadOnlyList<string> arguments, Host host)
    {
        string first = arguments.Count == 0 ? string.Empty : arguments[0];
        IReadOnlyList<CommandEntry> named = [.. _commands.Where(command => command.Name == first)];
        return (named.Count > 0 ? named : _commands).Select(command => command.Make(host));
    }

    private static string CommandPath(ParseResult parsed) =>
        parsed.CommandResult.Command is RootCommand ? string.Empty : parsed.CommandResult.Command.Name + " ";

    private static int Explain(Host host, int exitCode, string sentence, Exception fault)
    {
        host.Fail(exitCode, sentence);
        if (host.Trace)
        {
            host.Error.WriteLine(fault);
        }

        return exitCode;
    }

    private sealed record CommandEntry(string Name, Func<Host, PackCareCommand> Make);
}
