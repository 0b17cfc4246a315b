namespace PackCare.Core.Samples;

/// <summary>What a logged channel measures. The unit of each is fixed. Stored in the history by number: never renumber.</summary>
public enum ChannelKind
{
    /// <summary>Time since the session's start, in seconds.</summary>
    Time = 0,

    /// <summary>Voltage over the whole pack, in volts.</summary>
    PackVoltage = 1,

    /// <summary>Voltage of one cell, in volts; the index is the cell number from 1.</summary>
    CellVoltage = 2,

    /// <summary>Current in amperes; into the pack (charging) is positive.</summary>
    Current = 3,

    /// <summary>Charge as the logger counted it, in ampere hours; into the pack is positive.</summary>
    Charge = 4,

    /// <summary>Energy as the logger counted it, in watt hours; into the pack is positive.</summary>
    Energy = 5,

    /// <summary>Temperature in degrees Celsius; the index is the sensor number from 1.</summary>
    Temperature = 6,

    /// <summary>Resistance of one cell as the instrument itself stated it, in ohms; the index is the cell number from 1.</summary>
    CellResistance = 7,
}
