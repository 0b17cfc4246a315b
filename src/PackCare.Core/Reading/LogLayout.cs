namespace PackCare.Core.Reading;

/// <summary>How a log lays out its cells.</summary>
public enum LogLayout
{
    /// <summary>One row a moment, one column a cell.</summary>
    Wide,

    /// <summary>One row a cell and moment.</summary>
    Long,
}
