namespace PackCare.Analysis.Assessments;

/// <summary>One thing that needs doing.</summary>
/// <param name="PackLabel">The pack.</param>
/// <param name="Urgency">How soon.</param>
/// <param name="Finding">The finding that asks for it.</param>
/// <param name="Since">Since when it stands, or null.</param>
public sealed record DueItem(string PackLabel, DueUrgency Urgency, Finding Finding, DateTimeOffset? Since);
