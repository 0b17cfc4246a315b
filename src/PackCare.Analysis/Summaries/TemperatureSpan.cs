namespace PackCare.Analysis.Summaries;

/// <summary>Temperature over a session, in degrees Celsius; null where none was logged.</summary>
internal sealed record TemperatureSpan(double? Mean, double? Min, double? Max)
{
    /// <summary>Mean over time (trapezoid), lowest and highest.</summary>
    public static TemperatureSpan Of(SessionSamples session)
    {
        if (session.Temperature is not { } celsius || celsius.Figures is not { Present: > 0 } figures)
        {
            return new TemperatureSpan(null, null, null);
        }

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

                if (!double.IsNaN(lastTime))
                {
                    double span = times[i] - lastTime;
                    area += (values[i] + lastCelsius) / 2 * span;
                    seconds += span;
                }

                (lastCelsius, lastTime) = (values[i], times[i]);
            }
        }

        return new TemperatureSpan(seconds > 0 ? area / seconds : figures.First, figures.Min, figures.Max);
    }

    /// <summary>The plain mean of the readings; null where there is none.</summary>
    public static double? Average(SampleColumn? celsius)
    {
        if (celsius is not { Figures.Present: > 0 })
        {
            return null;
        }

        double sum = 0;
        for (int page = 0; page < celsius.Pages; page++)
        {
            foreach (double value in celsius.Page(page))
            {
                sum += double.IsNaN(value) ? 0 : value;
            }
        }

        return sum / celsius.Figures.Present;
    }
}
