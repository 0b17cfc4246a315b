namespace PackCare.Import.Tables;

/// <summary>What the fields of a column look like.</summary>
internal enum ColumnShape
{
    /// <summary>Nothing in it.</summary>
    Empty,

    /// <summary>Numbers.</summary>
    Number,

    /// <summary>Dates or times.</summary>
    Time,

    /// <summary>Words.</summary>
    Text,

    /// <summary>Several numbers in one field.</summary>
    List,
}
