namespace PackCare.Core.Packs;

/// <summary>One thing that an owner wrote down about a pack.</summary>
/// <param name="Id">Its number in this history; 0 before it is stored.</param>
/// <param name="At">When, with the offset at which it was entered.</param>
/// <param name="Kind">What it is.</param>
/// <param name="Swollen">Whether the pack was seen to be swollen. False says only that it was not entered.</param>
/// <param name="Damaged">Whether the pack was seen to be damaged. False says only that it was not entered.</param>
/// <param name="MaxCelsius">The highest temperature seen, in degrees Celsius, or null.</param>
/// <param name="Text">Free text, or null.</param>
public sealed record DiaryEntry(long Id, DateTimeOffset At, EntryKind Kind, bool Swollen = false, bool Damaged = false, double? MaxCelsius = null, string? Text = null);
