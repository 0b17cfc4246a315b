using PackCare.Core.Reading;

namespace PackCare.Cli.Importing;

/// <summary>What became of one file.</summary>
/// <param name="File">The path as the user would write it.</param>
/// <param name="Sha256">SHA-256 of its bytes, or null where they could not be read.</param>
/// <param name="Status">What became of it.</param>
/// <param name="Reading">What it was understood to mean, or null.</param>
/// <param name="Ledger">The account of its lines.</param>
/// <param name="Sessions">Its sessions.</param>
/// <param name="Problems">Notices and refusals.</param>
internal sealed record FileOutcome(
    string File,
    string? Sha256,
    ImportStatus Status,
    LogReading? Reading,
    Ledger Ledger,
    IReadOnlyList<SessionOutcome> Sessions,
    IReadOnlyList<InputProblem> Problems)
{
    /// <summary>A file of which nothing is stored.</summary>
    public static FileOutcome Refused(string file, string? sha256, IReadOnlyList<InputProblem> problems, LogReading? reading = null, Ledger? ledger = null) =>
        new(file, sha256, ImportStatus.Refused, reading, ledger ?? Ledger.Empty, [], problems);
}
