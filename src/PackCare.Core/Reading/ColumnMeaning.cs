namespace PackCare.Core.Reading;

/// <summary>What a column of a log can be taken for.</summary>
public enum ColumnMeaning
{
    /// <summary>Kept out of the history: nothing that the analysis uses.</summary>
    Ignored,

    /// <summary>Time since some start.</summary>
    ElapsedTime,

    /// <summary>Date and time together.</summary>
    Timestamp,

    /// <summary>Date alone.</summary>
    Date,

    /// <summary>Time of day alone.</summary>
    ClockTime,

    /// <summary>Pack voltage.</summary>
    PackVoltage,

    /// <summary>Voltage of one cell.</summary>
    CellVoltage,

    /// <summary>All cell voltages in one field.</summary>
    CellVoltages,

    /// <summary>Cell number of a row, in the long layout.</summary>
    CellNumber,

    /// <summary>Current, signed.</summary>
    Current,

    /// <summary>Charge counter.</summary>
    Charge,

    /// <summary>Charge counter that runs only while charging.</summary>
    ChargeIn,

    /// <summary>Charge counter that runs only while discharging.</summary>
    ChargeOut,

    /// <summary>Energy counter.</summary>
    Energy,

    /// <summary>Power.</summary>
    Power,

    /// <summary>Temperature.</summary>
    Temperature,

    /// <summary>Resistance of one cell as the instrument stated it.</summary>
    CellResistance,

    /// <summary>Words that say whether the pack is charged, discharged or at rest.</summary>
    Mode,

    /// <summary>The pack's label.</summary>
    PackLabel,

    /// <summary>A running session or cycle number.</summary>
    SessionNumber,

    /// <summary>Current out of the pack beside one into it; taken off that.</summary>
    CurrentOut,
}
