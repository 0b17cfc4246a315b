using System.CommandLine;
using PackCare.Cli.Hosting;
using PackCare.Cli.Output;
using PackCare.Store;

namespace PackCare.Cli.Commands;

/// <summary>Examines the history file.</summary>
internal sealed class DoctorCommand : PackCareCommand
{
    private readonly Option<bool> _repair = new("--repair") { Description = "Put right what can be; the file as it was is kept beside it" };
    private readonly Option<bool> _json = MakeJsonOption();

    /// <summary>Makes the command.</summary>
    public DoctorCommand(Host host)
        : base(host, "doctor", "Examine the history file for damage, and say what can be put right.", "packcare doctor", "packcare doctor --repair")
    {
        Add(_repair);
        Add(_json);
    }

    /// <inheritdoc/>
    protected override int Execute(ParseResult parsed)
    {
        if (Now(parsed) is not { } now)
        {
            return ExitCode.Usage;
        }

        string path = HistoryPath(parsed);
        bool repair = parsed.GetValue(_repair);
        HealthReport health = repair ? HistoryFile.Repair(path, now) : HistoryFile.Examine(path);
        if (repair && health.SessionsToSummarise.Count > 0)
        {
            using (History history = History.Open(path, create: false))
            {
                Summaries.DeriveAgain(history, health.SessionsToSummarise);
            }

            health = HistoryFile.Examine(path) with { Repaired = health.Repaired, KeptAside = health.KeptAside };
        }

        if (parsed.GetValue(_json))
        {
            JsonText.WriteLine(Host.Out, HealthJson.Of(path, health));
        }
        else
        {
            Host.Out.WriteLine($"{path}: {Figures.Count((int)health.Packs, "pack", "packs")}, {Figures.Count((int)health.Sessions, "session", "sessions")}, {Figures.Count((int)health.Blocks, "block", "blocks")} of samples.");
            foreach (Complaint repaired in health.Repaired)
            {
                Host.Out.WriteLine(Printable.OneLine($"put right: {repaired.Text}"));
            }

            if (health.KeptAside is { } aside)
            {
                Host.Out.WriteLine($"The file as it was is kept as {aside}.");
            }

            Host.Out.WriteLine(health.Sound ? "Nothing is wrong." : repair ? "What is named on the error stream could not be put right." : "Something is wrong; 'packcare doctor --repair' puts right what can be.");
        }

        return HealthText.WriteComplaints(Host, health) ? ExitCode.Done : ExitCode.Refused;
    }
}
