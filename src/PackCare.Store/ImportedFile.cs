using PackCare.Core.Reading;

namespace PackCare.Store;

/// <summary>A file whose sessions go into the history.</summary>
/// <param name="Sha256">Lower-case hexadecimal SHA-256 of its bytes; the same bytes are the same file.</param>
/// <param name="Name">Its name without folders.</param>
/// <param name="Bytes">Its length.</param>
/// <param name="Imported">When it was imported.</param>
/// <param name="Reading">What it was understood to mean.</param>
/// <param name="Ledger">The account of its lines.</param>
/// <param name="Notices">What was worth knowing while it was read.</param>
public sealed record ImportedFile(
    string Sha256,
    string Name,
    long Bytes,
    DateTimeOffset Imported,
    LogReading Reading,
    Ledger Ledger,
    IReadOnlyList<InputProblem> Notices);
