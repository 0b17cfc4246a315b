using PackCare.Core.Sessions;

namespace PackCare.Analysis.Summaries;

/// <summary>What the instrument itself states; never mixed with resistances from current steps, since it measures in another way.</summary>
internal static class InstrumentResistance
{
    /// <summary>Median of the readings above zero; null where there is none.</summary>
    public static ResistanceReading? Of(SampleColumn? ohms, double? meanCelsius)
    {
        if (ohms is not { Figures.Max: > 0 })
        {
            return null;
        }

        using var readings = new SampleColumn(ohms.Length, (page, into) =>
        {
            ReadOnlySpan<double> stated = ohms.Page(page);
            for (int i = 0; i < stated.Length; i++)
            {
                into[i] = stated[i] > 0 ? stated[i] : double.NaN;
            }
        });
        (int changes, double step, double deviation) = Scatter(readings);
        double rounding = (step > 0 ? step : 0.0001) / Math.Sqrt(12);
        return new ResistanceReading(Ranks.Median(readings), Math.Max(rounding, deviation / Math.Sqrt(changes)), changes, 0, meanCelsius);
    }

    // A display that is refreshed now and then repeats itself; only changes are news. The deviation is that of a sample, 0 for one reading.
    private static (int Changes, double Step, double Deviation) Scatter(SampleColumn readings)
    {
        int changes = 1;
        double smallest = double.PositiveInfinity;
        double last = double.NaN;
        double sum = 0;
        double squares = 0;
        int count = 0;
        for (int page = 0; page < readings.Pages; page++)
        {
            foreach (double value in readings.Page(page))
            {
                if (double.IsNaN(value))
                {
                    continue;
                }

                sum += value;
                count++;
                if (count > 1)
                {
                    double apart = Math.Abs(value - last);
                    changes += apart == 0 ? 0 : 1;
                    smallest = apart > Resolution.LeastStep && apart < smallest ? apart : smallest;
                    double off = (count * value) - sum;
                    squares += off * off / ((double)count * (count - 1));
                }

                last = value;
            }
        }

        return (changes, Resolution.Rounded(smallest), count < 2 ? 0 : Math.Sqrt(squares / (count - 1)));
    }
}
