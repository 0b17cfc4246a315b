namespace PackCare.Analysis.Assessments;

/// <summary>What a finding is about. Written in lower case with hyphens wherever a program reads it.</summary>
public enum FindingCode
{
    /// <summary>Cells differ at rest.</summary>
    RestSpread,

    /// <summary>A cell is fuller or emptier than the others.</summary>
    ChargeOffset,

    /// <summary>A cell loses charge at rest.</summary>
    SelfDischarge,

    /// <summary>A cell holds less than the others.</summary>
    CapacityMismatch,

    /// <summary>The pack sat full for too long.</summary>
    FullSpell,

    /// <summary>A cell's resistance has risen.</summary>
    Resistance,

    /// <summary>The pack holds less than it did.</summary>
    Capacity,

    /// <summary>A cell was or is too low.</summary>
    LowCell,

    /// <summary>A cell was charged too high.</summary>
    OverVoltage,

    /// <summary>A charge was too cold or too hot.</summary>
    Temperature,

    /// <summary>Seen to be swollen.</summary>
    Swollen,

    /// <summary>Seen to be damaged.</summary>
    Damaged,

    /// <summary>Leads or connector have too much resistance.</summary>
    LeadResistance,

    /// <summary>Charges end without the cells being brought level.</summary>
    NeverBalanced,

    /// <summary>No reading for too long.</summary>
    CheckOverdue,

    /// <summary>Too little is on record to tell.</summary>
    TooLittleData,
}
