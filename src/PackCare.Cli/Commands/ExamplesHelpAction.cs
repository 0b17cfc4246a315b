using System.CommandLine;
using System.CommandLine.Help;
using System.CommandLine.Invocation;

namespace PackCare.Cli.Commands;

/// <summary>Shows help, then examples and exit codes.</summary>
internal sealed class ExamplesHelpAction(HelpAction inner) : SynchronousCommandLineAction
{
    private const string ExitCodes = """
        Exit codes:
          0   done
          1   some input was refused: each is named, the rest is done
          2   wrong usage
          3   the history cannot be read or is locked
          4   'due --exit-code' found something overdue
          70  a bug
        """;

    /// <inheritdoc/>
    public override bool ClearsParseErrors => true;

    /// <inheritdoc/>
    public override int Invoke(ParseResult parseResult)
    {
        int result = inner.Invoke(parseResult);
        TextWriter output = parseResult.InvocationConfiguration.Output;
        if (parseResult.CommandResult.Command is PackCareCommand command)
        {
            output.WriteLine("Examples:");
            foreach (string example in command.Examples)
            {
                output.WriteLine("  " + example);
            }

            output.WriteLine();
        }

        output.WriteLine(ExitCodes);
        return result;
    }
}
