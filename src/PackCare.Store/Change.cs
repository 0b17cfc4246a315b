namespace PackCare.Store;

/// <summary>One change to a history that can be taken back.</summary>
/// <param name="Id">Its number; a later change has a higher one.</param>
/// <param name="Kind">What it did.</param>
/// <param name="Subject">Name of the file, or label of the pack.</param>
/// <param name="Undone">Whether it was taken back.</param>
public sealed record Change(long Id, ChangeKind Kind, string Subject, bool Undone);
