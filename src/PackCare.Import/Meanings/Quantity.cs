namespace PackCare.Import.Meanings;

/// <summary>What a header speaks of.</summary>
internal enum Quantity
{
    Unknown,
    Elapsed,
    Timestamp,
    Date,
    Clock,
    Voltage,
    Current,
    Charge,
    Energy,
    Power,
    Temperature,
    Resistance,
    Mode,
    PackLabel,
    Session,
    CellNumber,
    Other,
}
