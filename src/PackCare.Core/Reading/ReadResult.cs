using PackCare.Core.Sessions;

namespace PackCare.Core.Reading;

/// <summary>The outcome of reading one log: right, or refused with reasons; never a guess.</summary>
/// <param name="Reading">What the file was understood to mean; null where no reading survived.</param>
/// <param name="Ledger">The account of its lines.</param>
/// <param name="Sessions">What was read; empty where the file was refused.</param>
/// <param name="Problems">Notices and refusals in order of line.</param>
public sealed record ReadResult(
    LogReading? Reading,
    Ledger Ledger,
    IReadOnlyList<SessionLog> Sessions,
    IReadOnlyList<InputProblem> Problems)
{
    /// <summary>Whether the file was refused.</summary>
    public bool Refused => Problems.Any(problem => problem.Level == ProblemLevel.Refusal);
}
