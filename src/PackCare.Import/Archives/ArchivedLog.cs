using PackCare.Core.Reading;

namespace PackCare.Import.Archives;

/// <summary>One file of an archive, expanded, or why it cannot be.</summary>
/// <param name="Source">Its name without folders, and its own date.</param>
/// <param name="Bytes">Its bytes, seekable, to be disposed of by the caller before the next is asked for; null with a problem.</param>
/// <param name="Problem">Why it was refused, or null.</param>
public sealed record ArchivedLog(LogSource Source, Stream? Bytes, InputProblem? Problem);
