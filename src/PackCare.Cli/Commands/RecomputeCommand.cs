using System.CommandLine;
using PackCare.Analysis;
using PackCare.Cli.Hosting;
using PackCare.Cli.Output;
using PackCare.Store;

namespace PackCare.Cli.Commands;

/// <summary>Derives every summary again from its samples.</summary>
internal sealed class RecomputeCommand : PackCareCommand
{
    private readonly Option<bool> _json = MakeJsonOption();

    /// <summary>Makes the command.</summary>
    public RecomputeCommand(Host host)
        : base(host, "recompute", "Derive every session's summary again from its samples, for instance after an upgrade.", "packcare recompute")
        => Add(_json);

    /// <inheritdoc/>
    protected override int Execute(ParseResult parsed)
    {
        using History history = OpenHistory(parsed, create: false);
        int sessions = Summaries.DeriveAgain(history, history.SessionIds());
        if (parsed.GetValue(_json))
        {
            JsonText.WriteLine(Host.Out, new { Sessions = sessions, SessionSummarizer.MethodVersion });
        }
        else
        {
            Host.Out.WriteLine($"Derived {Figures.Count(sessions, "summary", "summaries")} again from samples, by method {SessionSummarizer.MethodVersion}.");
        }

        return ExitCode.Done;
    }
}
