namespace PackCare.Analysis.Limits;

/// <summary>One limit.</summary>
/// <param name="Key">Which.</param>
/// <param name="Name">Its name in a settings file, with the unit in it.</param>
/// <param name="Value">Its value.</param>
/// <param name="Unit">Its unit.</param>
/// <param name="Lowest">Lowest value a setting may give it.</param>
/// <param name="Highest">Highest value a setting may give it.</param>
/// <param name="Basis">Its source, or "common practice, no source".</param>
public sealed record Limit(LimitKey Key, string Name, double Value, string Unit, double Lowest, double Highest, string Basis);
