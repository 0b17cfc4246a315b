namespace PackCare.Analysis.Summaries;

/// <summary>Temperature over a session, in degrees Celsius; null where none was logged.</summary>
/// <param name="Mean">Mean over time, by the trapezoid rule.</param>
/// <param name="Min">The lowest reading.</param>
/// <param name="Max">The highest reading.</param>
/// <param name="OfReadings">Mean of the readings, whenever they were taken.</param>
internal sealed record TemperatureSpan(double? Mean, double? Min, double? Max, double? OfReadings)
{
    /// <summary>Finds it.</summary>
    public static TemperatureSpan Of(SessionSamples session)
    {
        if (session.Temperature is not { } celsius || celsius.Figures is not { Present: > 0 } figures)
        {
            return new TemperatureSpan(null, null, null, null);
        }

        double sum = 0;
        double area = 0;
        double seconds = 0;
        double lastCelsius = double.NaN;
        double lastTime = double.NaN;
        for (int page = 0; page < celsius.Pages; page++)
        {
            ReadOnlySpan<double> values = celsius.Page(page);
            ReadOnlySpan<double> times = session.Time.Page(page);
            for (int i = 0; i < values.Length; i++)
            {
                if (double.IsNaN(values[i]))
                {
                    continue;
                }

                sum += values[i];
                if (!double.IsNaN(lastTime))
                {
                    double span = times[i] - lastTime;
                    area += (values[i] + lastCelsius) / 2 * span;
                    seconds += span;
                }

                (lastCelsius, lastTime) = (values[i], times[i]);
            }
        }

        return new TemperatureSpan(seconds > 0 ? area / seconds : figures.First, figures.Min, figures.Max, sum / figures.Present);
    }
}
