using System.Text.Json.Serialization;

namespace PackCare.Import.Guides;

/// <summary>A guide as it stands in JSON.</summary>
internal sealed class GuideForm
{
    [JsonPropertyName("$schema")]
    public string? Schema { get; set; }

    public int Guide { get; set; }

    public string? Name { get; set; }

    public GuideScope? AppliesTo { get; set; }

    public string? Encoding { get; set; }

    public string? Delimiter { get; set; }

    public string? Decimal { get; set; }

    public string? DateOrder { get; set; }

    public string? PositiveCurrent { get; set; }

    public string? Zone { get; set; }

    public string? Pack { get; set; }

    public IReadOnlyList<GuideFormColumn>? Columns { get; set; }
}
