namespace PackCare.Report;

/// <summary>What a sheet of labels is made of.</summary>
/// <param name="Packs">The packs, in the order of their stickers.</param>
/// <param name="Format">How stickers lie on a sheet.</param>
/// <param name="Skip">How many places of the first sheet are used up, from the left and from the top; 0 to one less than it has.</param>
/// <param name="Dates">The order in which dates are written.</param>
/// <param name="Outline">Whether a fine line is printed around each sticker, for cutting plain paper.</param>
public sealed record LabelInput(IReadOnlyList<LabelPack> Packs, SheetFormat Format, int Skip = 0, DateOrder Dates = DateOrder.YearFirst, bool Outline = false)
{
    /// <summary>How many sheets of paper it takes.</summary>
    public int Sheets => (Skip + Packs.Count + Format.Places - 1) / Format.Places;
}
