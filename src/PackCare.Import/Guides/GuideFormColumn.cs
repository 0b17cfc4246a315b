using PackCare.Core.Reading;

namespace PackCare.Import.Guides;

/// <summary>A guide's column as it stands in JSON.</summary>
internal sealed class GuideFormColumn
{
    public int? Index { get; set; }

    public string? Header { get; set; }

    public ColumnMeaning Meaning { get; set; }

    public string? Unit { get; set; }

    public int? Cell { get; set; }
}
