using PackCare.Analysis.Assessments;
using PackCare.Analysis.Records;
using PackCare.Analysis.Statistics;
using PackCare.Core.Packs;
using PackCare.Core.Sessions;

namespace PackCare.Analysis.Resistance;

/// <summary>All resistances on record, brought to the reference temperature.</summary>
internal static class ResistanceSeries
{
    // Without a thermometer the pack is taken to have been at 22 +- 7 degrees, as rooms and workshops are (ours, no source).
    private const double UnknownCelsius = 22;
    private const double UnknownSpread = 7;

    /// <summary>The points in order of time; readings too far from the reference temperature are left out.</summary>
    public static IReadOnlyList<ResistancePoint> Of(PackRecord record)
    {
        var points = new List<ResistancePoint>();
        foreach (SessionRecord session in record.Sessions.Where(session => session.Summary.Cells.Count == record.Cells))
        {
            foreach (CellSummary cell in session.Summary.Cells)
            {
                Add(points, session.Started, session.Id, cell.Cell, cell.Resistance, false);
                Add(points, session.Started, session.Id, cell.Cell, cell.InstrumentResistance, true);
            }
        }

        foreach (SpotCheck check in record.SpotChecks.Where(check => check.CellMilliohms.Count == record.Cells))
        {
            for (int i = 0; i < check.CellMilliohms.Count; i++)
            {
                // An instrument shows a tenth of a milliohm at best, and contact adds a few percent.
                double ohms = check.CellMilliohms[i] / 1000;
                var reading = new ResistanceReading(ohms, Math.Max(0.0001, 0.03 * ohms), 1, 0, check.Celsius);
                Add(points, check.At, null, i + 1, reading, true);
            }
        }

        return [.. points.OrderBy(point => point.At).ThenBy(point => point.Cell)];
    }

    private static void Add(List<ResistancePoint> points, DateTimeOffset at, long? session, int cell, ResistanceReading? reading, bool instrument)
    {
        if (reading is null || Correct(reading) is not { } corrected)
        {
            return;
        }

        points.Add(new ResistancePoint(at, session, cell, Estimates.FromNormal(corrected.Milliohms, corrected.Error, reading.Count), reading.LagSeconds, instrument));
    }

    private static (double Milliohms, double Error)? Correct(ResistanceReading reading)
    {
        if (TemperatureCorrection.To25(reading.Celsius ?? UnknownCelsius) is not { } correction)
        {
            return null;
        }

        double relative = correction.RelativeError;
        if (reading.Celsius is null)
        {
            (double factor, _) = TemperatureCorrection.To25(UnknownCelsius + UnknownSpread)!.Value;
            relative = Math.Sqrt((relative * relative) + Math.Pow((factor / correction.Factor) - 1, 2));
        }

        double milliohms = reading.Ohms * 1000 * correction.Factor;
        double own = reading.StandardErrorOhms * 1000 * correction.Factor;
        return (milliohms, Math.Sqrt((own * own) + Math.Pow(milliohms * relative, 2)));
    }
}
