namespace PackCare.Core.Packs;

/// <summary>The family of cell chemistry, as far as the limits and curves differ. Stored by name.</summary>
public enum Chemistry
{
    /// <summary>Lithium polymer pouch cells charged to 4.20 V.</summary>
    LiPo,

    /// <summary>Lithium polymer pouch cells charged to 4.35 V.</summary>
    LiHv,

    /// <summary>Lithium-ion cells, usually round, charged to 4.20 V.</summary>
    LiIon,

    /// <summary>Lithium iron phosphate cells charged to about 3.60 V.</summary>
    LiFePo4,
}
