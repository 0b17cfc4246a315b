namespace PackCare.Import.Guides;

/// <summary>Which logs a guide applies to by itself, as it stands in JSON.</summary>
internal sealed class GuideScope
{
    public string? FileName { get; set; }

    public IReadOnlyList<string?>? Headers { get; set; }
}
