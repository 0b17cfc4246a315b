using PackCare.Analysis.Records;
using PackCare.Analysis.Statistics;
using PackCare.Analysis.Wording;
using PackCare.Core.Estimates;
using PackCare.Core.Sessions;
using PackCare.Core.Units;

namespace PackCare.Analysis.Resistance;

/// <summary>
/// What readings at unlike temperatures say: those too far from the reference to be corrected, as they were measured; and whether
/// the cell follows Arrhenius' law at all, by a fit of ln R on 1/T without any prior.
/// </summary>
internal static class TemperatureEvidence
{
    private const int FewestReadings = 4;
    private const double LeastSpan = 10;
    private const int MostShown = 4;

    // Readings of one cell at one temperature repeat to about this much besides their noise (ours, no source).
    private const double Repeatability = 0.03;

    // So many times the scatter that noise and repeatability explain is no chance: chi square over its degrees of freedom.
    private const double TooMuchScatter = 6;

    /// <summary>A sentence each; none where all readings were taken near one temperature.</summary>
    public static IReadOnlyList<string> Of(PackRecord record)
    {
        CellReading[] all = Readings(record);
        return [.. LeftOut(all), .. Law(all)];
    }

    private static CellReading[] Readings(PackRecord record) =>
    [
        .. from session in record.Sessions
           where session.Summary.Cells.Count == record.Cells
           from cell in session.Summary.Cells
           where cell.Resistance?.Celsius is not null
           select new CellReading(cell.Cell, cell.Resistance!, session),
    ];

    private static IEnumerable<string> LeftOut(CellReading[] all)
    {
        var far = all.Where(item => TemperatureCorrection.To25(item.Reading.Celsius!.Value) is null).ToList();
        foreach (var session in far.GroupBy(item => item.Session.Id).TakeLast(MostShown))
        {
            CellReading worst = session.MaxBy(item => item.Reading.Ohms)!;
            Estimate milliohms = Estimates.FromNormal(1000 * worst.Reading.Ohms, 1000 * worst.Reading.StandardErrorOhms, worst.Reading.Count);
            yield return $"At {Say.Number(worst.Reading.Celsius!.Value, "0.0")} C, on {Say.Day(worst.Session.Started)}, cell {worst.Cell} had {Say.Interval(milliohms, "0.0", "mOhm")} as measured, {Say.Number(worst.Reading.LagSeconds, "0.#")} s after {Say.Count(worst.Reading.Count, "step", "steps")}: more than {Say.Number(TemperatureCorrection.LargestDifference, "0")} K from 25 C, so it is not corrected and does not count in the figures at 25 C.";
        }
    }

    private static IEnumerable<string> Law(CellReading[] all)
    {
        foreach (var series in all.GroupBy(item => (item.Cell, item.Reading.LagSeconds)).OrderBy(series => series.Key.Cell))
        {
            ResistanceReading[] readings = [.. series.Select(item => item.Reading).Where(reading => reading.Ohms > 3 * reading.StandardErrorOhms)];
            if (readings.Length < FewestReadings || readings.Max(reading => reading.Celsius!.Value) - readings.Min(reading => reading.Celsius!.Value) < LeastSpan)
            {
                continue;
            }

            var design = new double[readings.Length, 2];
            for (int i = 0; i < readings.Length; i++)
            {
                design[i, 0] = 1;
                // In thousandths of 1/K, so that both columns are of like size.
                design[i, 1] = 1000 * ((1 / new Celsius(readings[i].Celsius!.Value).Kelvins) - (1 / new Celsius(TemperatureCorrection.ReferenceCelsius).Kelvins));
            }

            double[] weights = [.. readings.Select(reading => 1 / (Math.Pow(reading.StandardErrorOhms / reading.Ohms, 2) + (Repeatability * Repeatability)))];
            if (LinearModel.Fit(design, [.. readings.Select(reading => Math.Log(reading.Ohms))], weights) is not { } fit)
            {
                continue;
            }

            string range = $"between {Say.Number(readings.Min(reading => reading.Celsius!.Value), "0")} and {Say.Number(readings.Max(reading => reading.Celsius!.Value), "0")} C";
            if (fit.ResidualVariance > TooMuchScatter)
            {
                double scatter = Math.Sqrt(fit.Residuals.Sum(residual => residual * residual) / fit.DegreesOfFreedom);
                yield return $"Cell {series.Key.Cell} does not follow Arrhenius' law {range}: {readings.Length} readings lie {Say.Number(100 * scatter, "0")} % off the best such fit, more than noise explains. Its figures at 25 C are not to be relied on; compare readings of one temperature only.";
                continue;
            }

            double scale = Math.Max(1, fit.ResidualVariance);
            double kilojoules = fit.Parameters[1] * TemperatureCorrection.GasConstant;
            Estimate energy = Estimates.FromT(kilojoules, Math.Sqrt(scale * fit.UnscaledCovariance[1, 1]) * TemperatureCorrection.GasConstant, fit.DegreesOfFreedom, readings.Length);
            double low = (TemperatureCorrection.ActivationEnergy - TemperatureCorrection.ActivationHalfSpread) / 1000;
            double high = (TemperatureCorrection.ActivationEnergy + TemperatureCorrection.ActivationHalfSpread) / 1000;
            string judged = energy.High < low || energy.Low > high
                ? $"outside the {Say.Number(low, "0")} to {Say.Number(high, "0")} kJ/mol that the correction to 25 C allows for, so that readings away from 25 C are only corrected in part"
                : "in line with the correction to 25 C";
            yield return $"Cell {series.Key.Cell}: {readings.Length} readings {range} give an activation energy of {Say.Interval(energy, "0.0", "kJ/mol")}, {judged}.";
        }
    }

    // Of a class, since generic code over tuples is not compiled ahead and delays every start.
    private sealed record CellReading(int Cell, ResistanceReading Reading, SessionRecord Session);
}
