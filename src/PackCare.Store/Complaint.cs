namespace PackCare.Store;

/// <summary>Something wrong with a history.</summary>
/// <param name="Kind">What sort of thing.</param>
/// <param name="Text">What was found, in one sentence.</param>
public sealed record Complaint(ComplaintKind Kind, string Text);
