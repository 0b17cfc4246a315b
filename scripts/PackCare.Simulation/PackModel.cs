namespace PackCare.Simulation;

/// <summary>A pack: cells in series, what joins them to the instrument, and how it warms up.</summary>
public sealed record PackModel
{
    /// <summary>The cells in series, first cell first.</summary>
    public required IReadOnlyList<CellModel> Cells { get; init; }

    /// <summary>Capacity as printed on the pack, in ampere hours; one cycle is twice this charge moved.</summary>
    public required double RatedAh { get; init; }

    /// <summary>Resistance of leads and connector in ohms, seen in the pack voltage and not in the cells'.</summary>
    public double LeadOhms { get; init; } = 0.004;

    /// <summary>Heat capacity in joules per kelvin; about 1 J per gram and kelvin.</summary>
    public required double HeatJoulesPerKelvin { get; init; }

    /// <summary>Time constant of cooling in still air, in seconds.</summary>
    public double CoolingSeconds { get; init; } = 1500;
}
