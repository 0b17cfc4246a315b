namespace PackCare.Analysis.Summaries;

/// <summary>Temperature over a session, in degrees Celsius; null where none was logged.</summary>
internal sealed record TemperatureSpan(double? Mean, double? Min, double? Max)
{
    /// <summary>Mean over time (trapezoid), lowest and highest.</summary>
    public static TemperatureSpan Of(SessionArrays session)
    {
        if (session.Temperature is not { } celsius || !celsius.Any(double.IsFinite))
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

        double[] finite = [.. celsius.Where(double.IsFinite)];
        return new TemperatureSpan(seconds > 0 ? area / seconds : finite[0], finite.Min(), finite.Max());
    }
}
