using PackCare.Analysis.Records;

namespace PackCare.Analysis.Imbalance;

/// <summary>Whether a spread stands, not merely showed once: on with two of the last three readings over the limit, off with two in a row well under it.</summary>
internal static class SpreadWatch
{
    private const double ReleaseFraction = 0.8;

    /// <summary>Walks the readings in order of time.</summary>
    /// <returns>The readings over the limit since it stands, latest last; empty where it does not stand.</returns>
    public static IReadOnlyList<RestReading> Standing(IReadOnlyList<RestReading> readings, double limitMillivolts)
    {
        bool on = false;
        var since = new List<RestReading>();
        for (int i = 0; i < readings.Count; i++)
        {
            bool over = readings[i].SpreadMillivolts > limitMillivolts;
            int lately = readings.Skip(Math.Max(0, i - 2)).Take(Math.Min(3, i + 1)).Count(reading => reading.SpreadMillivolts > limitMillivolts);
            if (over)
            {
                since.Add(readings[i]);
            }

            if (!on && over && lately >= 2)
            {
                on = true;
            }
            else if (i > 0 && Released(readings[i], limitMillivolts) && Released(readings[i - 1], limitMillivolts))
            {
                on = false;
                since.Clear();
            }
        }

        return on ? since : [];
    }

    private static bool Released(RestReading reading, double limit) => reading.SpreadMillivolts < ReleaseFraction * limit;
}
