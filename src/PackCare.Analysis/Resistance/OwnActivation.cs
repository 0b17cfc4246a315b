using PackCare.Analysis.Statistics;
using PackCare.Core.Units;

namespace PackCare.Analysis.Resistance;

/// <summary>
/// What the pack's own readings at different temperatures say of its activation energy. The published spread is the prior,
/// the pack's readings move it: R / mean R = a + b t + e x for every cell, one e for all, x = 1/T - 1/Tref, e held near 0 by a
/// pseudo-observation of the spread's own standard error. A cell that is not quite of Arrhenius' kind is met half way.
/// Readings are taken as they are and not by their logarithm, which noise would bias and which a reading below none does not have.
/// </summary>
/// <param name="ExtraKelvins">e, in kelvins: what is to be added to Ea/Rgas.</param>
/// <param name="StandardErrorKelvins">Its standard error, in kelvins.</param>
internal sealed record OwnActivation(double ExtraKelvins, double StandardErrorKelvins)
{
    /// <summary>Standard error of the prior, in kelvins.</summary>
    public const double PriorKelvins = TemperatureCorrection.ActivationHalfSpread / TemperatureCorrection.GasConstant / 1.7320508;

    private const double LeastRepeatability = 0.01;

    /// <summary>Estimates it from readings that were brought to the reference by the default activation energy.</summary>
    /// <param name="readings">Cell, days, resistance at the reference, its standard error without temperature's, and the temperature; those without a temperature do not count.</param>
    public static OwnActivation Of(IReadOnlyList<(int Cell, double Days, double Milliohms, double Error, double? Celsius)> readings)
    {
        var known = readings.Where(reading => reading.Celsius is not null).ToList();
        Dictionary<int, double> means = known.GroupBy(reading => reading.Cell).Where(group => group.Count() >= 4)
            .ToDictionary(group => group.Key, group => Mean([.. group.Select(reading => (reading.Milliohms, reading.Error))]));
        int[] cells = [.. means.Where(mean => mean.Value > 0).Select(mean => mean.Key)];
        known = [.. known.Where(reading => cells.Contains(reading.Cell))];
        var prior = new OwnActivation(0, PriorKelvins);
        if (known.Count == 0)
        {
            return prior;
        }

        double last = Math.Max(1, known.Max(reading => reading.Days));
        int rows = known.Count + 1;
        var design = new double[rows, (2 * cells.Length) + 1];
        var response = new double[rows];
        var weights = new double[rows];
        for (int i = 0; i < known.Count; i++)
        {
            int cell = Array.IndexOf(cells, known[i].Cell);
            design[i, 2 * cell] = 1;
            design[i, (2 * cell) + 1] = known[i].Days / last;
            design[i, 2 * cells.Length] = Inverse(known[i].Celsius!.Value) / PriorScale;
            double mean = means[known[i].Cell];
            response[i] = known[i].Milliohms / mean;
            // All cells of a session share its thermometer and its moment: together they count little more than one.
            weights[i] = 1 / (cells.Length * Square(Math.Max(known[i].Error / mean, LeastRepeatability)));
        }

        design[rows - 1, 2 * cells.Length] = 1;
        weights[rows - 1] = 1 / Square(PriorKelvins * PriorScale);
        if (LinearModel.Fit(design, response, weights) is not { } fit)
        {
            return prior;
        }

        double scatter = Math.Max(1, fit.WeightedSquares / Math.Max(1, known.Count / cells.Length - 2));
        double error = Math.Sqrt(fit.UnscaledCovariance[2 * cells.Length, 2 * cells.Length] * scatter) / PriorScale;
        return new OwnActivation(fit.Parameters[2 * cells.Length] / PriorScale, Math.Min(error, PriorKelvins));
    }

    /// <summary>By what a resistance that was brought to the reference by the default is still to be multiplied.</summary>
    public double Factor(double celsius) => Math.Exp(-ExtraKelvins * Inverse(celsius));

    /// <summary>Signed relative standard error that is left at a temperature; all readings share its sign and size per 1/T.</summary>
    public double RelativeError(double celsius) => StandardErrorKelvins * Inverse(celsius);

    private static double Mean((double Value, double Error)[] readings) =>
        readings.Sum(reading => reading.Value / Square(reading.Error)) / readings.Sum(reading => 1 / Square(reading.Error));

    private const double PriorScale = 1e-4;

    private static double Inverse(double celsius) => (1 / new Celsius(celsius).Kelvins) - (1 / new Celsius(TemperatureCorrection.ReferenceCelsius).Kelvins);

    private static double Square(double value) => value * value;
}
