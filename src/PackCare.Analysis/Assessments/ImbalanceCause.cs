namespace PackCare.Analysis.Assessments;

/// <summary>Why the cells of a pack differ.</summary>
public enum ImbalanceCause
{
    /// <summary>They do not differ beyond the limit.</summary>
    None,

    /// <summary>One holds another state of charge; balancing mends it.</summary>
    ChargeOffset,

    /// <summary>One holds less charge in all.</summary>
    Capacity,

    /// <summary>One loses charge at rest.</summary>
    SelfDischarge,

    /// <summary>One has more resistance.</summary>
    Resistance,

    /// <summary>The evidence does not decide.</summary>
    Undetermined,
}
