namespace PackCare.Import.Tables;

/// <summary>How several numbers stand in one field.</summary>
/// <param name="Separator">What stands between them; a blank may follow.</param>
/// <param name="Count">How many there are.</param>
internal sealed record ListForm(char Separator, int Count);
