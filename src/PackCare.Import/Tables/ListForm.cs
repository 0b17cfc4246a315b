namespace PackCare.Import.Tables;

/// <summary>How several numbers stand in one field.</summary>
/// <param name="Separator">What stands between them; a blank may follow.</param>
/// <param name="Count">How many there are.</param>
/// <param name="First">The number of the first, where each has one before it (<c>1:3.701</c>); else null.</param>
/// <param name="Sign">What stands between that number and the value.</param>
/// <param name="Unit">The unit behind each, as written; null for none.</param>
internal sealed record ListForm(char Separator, int Count, int? First = null, char Sign = ':', string? Unit = null);
