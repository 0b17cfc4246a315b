using PackCare.Core.Reading;
using PackCare.Import.Tables;

namespace PackCare.Import;

/// <summary>What came of one hypothesis.</summary>
/// <param name="Stage">How far it got: 1 no table with time and voltages, 2 a column contradicts itself, 3 a table that is refused, 4 read.</param>
/// <param name="Result">The result.</param>
/// <param name="Table">The table as written.</param>
internal sealed record Outcome(int Stage, ReadResult Result, RawTable Table)
{
    /// <summary>Whether the log was read.</summary>
    internal bool IsRead => Stage == 4;
}
