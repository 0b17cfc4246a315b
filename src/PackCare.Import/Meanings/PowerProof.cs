namespace PackCare.Import.Meanings;

/// <summary>Tells a power from a current: it is in every row the current times the voltage.</summary>
internal static class PowerProof
{
    // Leads, and two meters, put the product of voltage and current off by this at most.
    private const double MostOff = 0.03;

    // Rows that may be damaged.
    private const double FewestRows = 0.97;

    // Below so many last digits a product matches by chance.
    private const double FewestDigits = 15;

    private const double FewestDigitsToDoubt = 4;

    // A product that hardly moves is met by anything that hardly moves.
    private const double LeastMoved = 3 * MostOff;

    // Of how far a counter goes.
    private const double LargeStep = 0.3;
    private const int RisesOfFall = 8;

    private static readonly double[] Ratios = [1, 1000, 0.001];

    /// <summary>How many units of the power one unit of current times one volt makes (1, 1000 or 0.001); null where it is no power of that current.</summary>
    /// <param name="power">What may be the power.</param>
    /// <param name="current">What may be the current, with either sign.</param>
    /// <param name="voltages">The pack voltage alone, or all cells.</param>
    internal static double? Ratio(ColumnRole power, ColumnRole current, IReadOnlyList<ColumnRole> voltages) => Ratio(power, current, voltages, FewestDigits);

    /// <summary>Whether a column could be the power of a current, though its digits are too few to prove it.</summary>
    internal static bool IsPossible(ColumnRole power, ColumnRole current, IReadOnlyList<ColumnRole> voltages) => Ratio(power, current, voltages, FewestDigitsToDoubt) is not null;

    // An energy is about the charge times the voltage too: both count up, away from zero and by small steps.
    private static bool IsCounter(ColumnRole role)
    {
        NumberProfile profile = role.Profile!;
        return (Math.Min(profile.Rises, profile.Falls) == 0 && Math.Abs(profile.Last) > Math.Abs(profile.First) && profile.LargestStep < LargeStep * (profile.Max - profile.Min))
            || (profile is { Min: 0, First: 0, Falls: > 0 } && profile.Falls * RisesOfFall < profile.Rises && CountsAnew(role, profile.Max));
    }

    // From nought on by small steps, and back to nought where a session begins.
    private static bool CountsAnew(ColumnRole role, double most)
    {
        double last = 0;
        foreach (double value in LogColumns.Values(role, 0, 1))
        {
            if (value - last > LargeStep * most || (value < last && value > 0))
            {
                return false;
            }

            last = double.IsNaN(value) ? last : value;
        }

        return true;
    }

    private static double? Ratio(ColumnRole power, ColumnRole current, IReadOnlyList<ColumnRole> voltages, double fewestDigits)
    {
        if (IsCounter(power) || IsCounter(current) || power.Profile is not { Count: > 2 } profile || current.Profile is not { Count: > 2 } || voltages.Count == 0 || (profile.IsConstant && current.Profile.IsConstant)
            || profile.LargestMagnitude == 0 || current.Profile.LargestMagnitude == 0)
        {
            return null;
        }

        double volts = voltages.Sum(role => (role.Profile!.Min + role.Profile.Max) / 2 * role.Factor);
        double raw = profile.LargestMagnitude / current.Profile.LargestMagnitude / volts;
        double ratio = Ratios.MinBy(r => Math.Abs(Math.Log(raw / r)));
        double digits = Math.Pow(10, -power.Column.MaxDecimals) + (ratio * volts * Math.Pow(10, -current.Column.MaxDecimals));
        if (Math.Abs(Math.Log(raw / ratio)) > 0.4 || profile.LargestMagnitude < fewestDigits * digits)
        {
            return null;
        }

        double[] watts = LogColumns.Values(power, 0, 1);
        double[] amps = LogColumns.Values(current, 0, 1);
        double[] sum = new double[watts.Length];
        double[] one = new double[watts.Length];
        foreach (ColumnRole role in voltages)
        {
            LogColumns.Read(role.Values[0], role.Factor, one);
            RowMath.Add(sum, one);
        }

        int rows = 0;
        int fitting = 0;
        double least = double.PositiveInfinity;
        double most = 0;
        for (int i = 0; i < watts.Length; i++)
        {
            double product = ratio * sum[i] * Math.Abs(amps[i]);
            if (double.IsFinite(product) && double.IsFinite(watts[i]))
            {
                rows++;
                (least, most) = (Math.Min(least, product), Math.Max(most, product));
                fitting += Math.Abs(Math.Abs(watts[i]) - product) <= (MostOff * product) + digits ? 1 : 0;
            }
        }

        return rows > 2 && fitting >= FewestRows * rows && (most - least > LeastMoved * most || fewestDigits < FewestDigits) ? ratio : null;
    }
}
