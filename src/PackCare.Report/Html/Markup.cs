namespace PackCare.Report.Html;

/// <summary>Text that is markup already, and is written as it is.</summary>
/// <param name="Value">Well-formed HTML.</param>
internal readonly record struct Markup(string Value)
{
    /// <summary>Nothing.</summary>
    public static Markup None { get; } = new("");

    /// <inheritdoc/>
    public override string ToString() => Value;
}
