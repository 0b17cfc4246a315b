namespace PackCare.Analysis.Limits;

/// <summary>Names every limit that a finding is held against. The unit is that of the table.</summary>
public enum LimitKey
{
    /// <summary>Rest spread after a completed charge that is worth watching.</summary>
    RestSpreadWatch,

    /// <summary>Rest spread, again and again, from which retiring is to be considered.</summary>
    RestSpreadRetire,

    /// <summary>Rest spread, again and again, from which the pack is to be stopped.</summary>
    RestSpreadStop,

    /// <summary>A cell's distance from the others in state of charge.</summary>
    ChargeOffsetWatch,

    /// <summary>A cell's loss at rest against the others that is worth watching.</summary>
    SelfDischargeWatch,

    /// <summary>A cell's loss at rest against the others from which retiring is to be considered.</summary>
    SelfDischargeRetire,

    /// <summary>How much less than the others a cell holds, worth watching.</summary>
    CapacityMismatchWatch,

    /// <summary>How much less than the others a cell holds, from which retiring is to be considered.</summary>
    CapacityMismatchRetire,

    /// <summary>Length of a full spell in progress at which something is due.</summary>
    FullSpellDue,

    /// <summary>Length of a full spell in progress at which it is overdue.</summary>
    FullSpellOverdue,

    /// <summary>Length of a past confirmed full spell that is worth watching for a year.</summary>
    FullSpellPast,

    /// <summary>Resistance over its own baseline, watch.</summary>
    ResistanceWatch,

    /// <summary>Resistance over its own baseline, act.</summary>
    ResistanceRetire,

    /// <summary>Capacity over the reference, watch.</summary>
    CapacityWatch,

    /// <summary>Capacity over the reference, act.</summary>
    CapacityRetire,

    /// <summary>Resting cell too low to be left so.</summary>
    LowCellWatch,

    /// <summary>Resting cell so low that charging needs the maker's leave.</summary>
    LowCellCaution,

    /// <summary>Resting cell so low that the pack is to be stopped.</summary>
    LowCellStop,

    /// <summary>Cell voltage on charge above which something is wrong.</summary>
    OverVoltageWatch,

    /// <summary>Cell voltage on charge above which the pack is to be stopped.</summary>
    OverVoltageStop,

    /// <summary>Lowest temperature for charging.</summary>
    ChargeTemperatureLow,

    /// <summary>Highest temperature for charging.</summary>
    ChargeTemperatureHigh,

    /// <summary>Highest temperature in use worth watching.</summary>
    UseTemperatureWatch,

    /// <summary>Temperature in use at which the pack is to be stopped.</summary>
    UseTemperatureStop,

    /// <summary>Lead resistance over its own baseline, watch.</summary>
    LeadResistanceWatch,

    /// <summary>Lead resistance over its own baseline, act.</summary>
    LeadResistanceRetire,

    /// <summary>Days without any reading.</summary>
    CheckOverdue,
}
