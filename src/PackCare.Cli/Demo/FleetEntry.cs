using PackCare.Core.Packs;

namespace PackCare.Cli.Demo;

/// <summary>A diary entry of the demo.</summary>
internal sealed record FleetEntry(string Pack, DateTimeOffset At, EntryKind Kind, bool Swollen, bool Damaged, double? MaxCelsius, string? Text);
