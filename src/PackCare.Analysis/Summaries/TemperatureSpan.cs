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
        int last = -1;
        for (int i = 0; i < celsius.Length; i++)
        {
            if (!double.IsFinite(celsius[i]))
            {
                continue;
            }

            if (last >= 0)
            {
                double span = session.Time[i] - session.Time[last];
                area += (celsius[i] + celsius[last]) / 2 * span;
                seconds += span;
            }

            last = i;
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
