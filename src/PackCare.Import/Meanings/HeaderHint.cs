namespace PackCare.Import.Meanings;

/// <summary>What a column's header says.</summary>
/// <param name="Quantity">What it speaks of.</param>
/// <param name="Unit">The unit it states.</param>
/// <param name="IsCell">Whether it names a cell.</param>
/// <param name="IsPack">Whether it names the whole pack.</param>
/// <param name="Number">The number in it, of a cell or sensor.</param>
/// <param name="IsOut">Whether it speaks of discharging alone.</param>
/// <param name="IsIn">Whether it speaks of charging alone.</param>
/// <param name="IsDerived">Whether it names a limit, a set value, a difference or a mean: nothing that was measured there and then.</param>
/// <param name="IsBare">Whether it is only a letter or a number, so that the content has to agree.</param>
internal readonly record struct HeaderHint(
    Quantity Quantity, Unit Unit, bool IsCell, bool IsPack, int? Number, bool IsOut, bool IsIn, bool IsDerived, bool IsBare)
{
    /// <summary>Whether a reading guide says it in the header's place.</summary>
    internal bool IsGuided { get; init; }

    /// <summary>A header that says nothing.</summary>
    internal static HeaderHint Nothing { get; }
}
