using PackCare.Cli.Output;
using Spectre.Console;

namespace PackCare.Cli.Hosting;

/// <summary>Everything from outside that a command may touch: streams, terminal, clock, environment.</summary>
internal sealed class Host
{
    private const int PipedWidth = 80;
    private const int NarrowestWidth = 40;

    private readonly Func<string, string?> _environment;
    private readonly bool _outputIsTerminal;
    private readonly bool _errorIsTerminal;

    /// <summary>Puts a host together.</summary>
    public Host(TextWriter output, TextWriter error, TimeProvider clock, Func<string, string?> environment, bool outputIsTerminal, bool errorIsTerminal)
    {
        Out = output;
        Error = error;
        Clock = clock;
        _environment = environment;
        _outputIsTerminal = outputIsTerminal;
        _errorIsTerminal = errorIsTerminal;
    }

    /// <summary>Where results go.</summary>
    public TextWriter Out { get; }

    /// <summary>Where refusals and progress go.</summary>
    public TextWriter Error { get; }

    /// <summary>The machine's clock.</summary>
    public TimeProvider Clock { get; }

    /// <summary>Whether a stack trace may be shown.</summary>
    public bool Trace => Variable("PACKCARE_TRACE") == "1";

    /// <summary>How many characters a line of results may have.</summary>
    public int OutWidth => Width(_outputIsTerminal);

    /// <summary>The host of a real process.</summary>
    public static Host OfProcess()
    {
        // UTF-8 whatever the console's code page, and without a byte order mark in pipes.
        var utf8 = new System.Text.UTF8Encoding(encoderShouldEmitUTF8Identifier: false);
        Console.OutputEncoding = utf8;
        return new Host(Console.Out, Console.Error, TimeProvider.System, Environment.GetEnvironmentVariable, !Console.IsOutputRedirected, !Console.IsErrorRedirected);
    }

    /// <summary>An environment variable, or null where it is unset or empty.</summary>
    public string? Variable(string name) => _environment(name) is { Length: > 0 } value ? value : null;

    /// <summary>Shows a table laid out to the width at hand: with its looks on a terminal that wants them, plain text otherwise.</summary>
    public void Show(PlainTable table)
    {
        bool painted = _outputIsTerminal && Painted();
        foreach (string line in table.Lines(OutWidth, painted ? Paint : (text, _) => text))
        {
            Out.WriteLine(line);
        }
    }

    /// <summary>Shows a paragraph, wrapped at words.</summary>
    public void Paragraph(string text)
    {
        foreach (string line in TextWrap.Lines(Printable.OneLine(text), OutWidth))
        {
            Out.WriteLine(line);
        }
    }

    /// <summary>A console for progress on the error stream, or null where nobody is watching.</summary>
    public IAnsiConsole? ProgressScreen() => _errorIsTerminal ? MakeConsole(Error) : null;

    /// <summary>Says what is wrong and what to do, and hands back the exit code.</summary>
    public int Fail(int exitCode, string sentence)
    {
        Error.WriteLine("packcare: " + Printable.OneLine(sentence));
        return exitCode;
    }

    private static string Paint(string text, Look look) => look switch
    {
        Look.Faint => $"\e[2m{text}\e[0m",
        Look.Bold => $"\e[1m{text}\e[0m",
        Look.Grave => $"\e[1;7m{text}\e[0m",
        _ => text,
    };

    // A console of Windows has to be asked to understand such marks, which the library does.
    private bool Painted() =>
        Variable("NO_COLOR") is null
        && (OperatingSystem.IsWindows() ? AnsiConsole.Profile.Capabilities.Ansi : Variable("TERM") is { } terminal && terminal != "dumb");

    private IAnsiConsole MakeConsole(TextWriter writer)
    {
        bool colour = Variable("NO_COLOR") is null && Variable("TERM") != "dumb";
        IAnsiConsole console = AnsiConsole.Create(new AnsiConsoleSettings
        {
            Ansi = colour ? AnsiSupport.Detect : AnsiSupport.No,
            ColorSystem = colour ? ColorSystemSupport.Detect : ColorSystemSupport.NoColors,
            Interactive = InteractionSupport.No,
            Out = new AnsiConsoleOutput(writer),
        });
        console.Profile.Width = Width(terminal: true);
        return console;
    }

    private int Width(bool terminal)
    {
        if (int.TryParse(Variable("COLUMNS"), out int asked) && asked >= NarrowestWidth)
        {
            return asked;
        }

        return terminal ? Math.Max(NarrowestWidth, SafeWindowWidth()) : PipedWidth;
    }

    private static int SafeWindowWidth()
    {
        try
        {
            return Console.WindowWidth;
        }
        catch (IOException)
        {
            return PipedWidth;
        }
    }
}
