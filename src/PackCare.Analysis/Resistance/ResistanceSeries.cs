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
    public static IReadOnlyList<CorrectedResistance> Of(PackRecord record) =>
        [.. Raw(record)
            .Where(raw => TemperatureCorrection.To25(raw.Reading.Celsius ?? UnknownCelsius) is not null)
            .GroupBy(raw => new Method(raw.Instrument, raw.Session is not null, raw.Reading.LagSeconds))
            .SelectMany(series => Correct([.. series]))
            .OrderBy(item => item.Point.At).ThenBy(item => item.Point.LagSeconds).ThenBy(item => item.Point.Cell)];

    private static IEnumerable<RawReading> Raw(PackRecord record)
    {
        foreach (SessionRecord session in record.Sessions.Where(session => session.Summary.Cells.Count == record.Cells))
        {
            foreach (CellSummary cell in session.Summary.Cells)
            {
                if (cell.Resistance is { } stepped)
                {
                    yield return new RawReading(session.Started, session.Id, cell.Cell, stepped, Instrument: false);
                }

                if (cell.InstrumentResistance is { } stated)
                {
                    yield return new RawReading(session.Started, session.Id, cell.Cell, stated, Instrument: true);
                }
            }
        }

        foreach (SpotCheck check in record.SpotChecks.Where(check => check.CellMilliohms.Count == record.Cells))
        {
            for (int i = 0; i < check.CellMilliohms.Count; i++)
            {
                // An instrument shows a tenth of a milliohm at best, and contact adds a few percent.
                double ohms = check.CellMilliohms[i] / 1000;
                yield return new RawReading(check.At, null, i + 1, new ResistanceReading(ohms, Math.Max(0.0001, 0.03 * ohms), 1, 0, check.Celsius), Instrument: true);
            }
        }
    }

    private static IEnumerable<CorrectedResistance> Correct(RawReading[] series)
    {
        DateTimeOffset first = series.Min(raw => raw.At);
        var own = OwnActivation.Of([.. series.Select(raw => (
            raw.Cell,
            (raw.At - first).TotalDays,
            raw.Reading.Ohms * 1000 * TemperatureCorrection.To25(raw.Reading.Celsius ?? UnknownCelsius)!.Value.Factor,
            raw.Reading.StandardErrorOhms * 1000 * TemperatureCorrection.To25(raw.Reading.Celsius ?? UnknownCelsius)!.Value.Factor,
            raw.Reading.Celsius))]);
        foreach (RawReading raw in series)
        {
            double celsius = raw.Reading.Celsius ?? UnknownCelsius;
            double factor = 1000 * TemperatureCorrection.To25(celsius)!.Value.Factor * own.Factor(celsius);
            double milliohms = raw.Reading.Ohms * factor;
            double scatter = raw.Reading.StandardErrorOhms * factor;
            if (raw.Reading.Celsius is null)
            {
                // Each session had a temperature of its own, only nobody read it.
                double unknown = milliohms * (1 - (TemperatureCorrection.To25(UnknownCelsius + UnknownSpread)!.Value.Factor / TemperatureCorrection.To25(UnknownCelsius)!.Value.Factor));
                scatter = Math.Sqrt((scatter * scatter) + (unknown * unknown));
            }

            double temperature = milliohms * own.RelativeError(celsius);
            yield return new CorrectedResistance(
                new ResistancePoint(raw.At, raw.Session, raw.Cell, Estimates.FromNormal(milliohms, Math.Sqrt((scatter * scatter) + (temperature * temperature)), raw.Reading.Count), raw.Reading.LagSeconds, raw.Instrument),
                scatter,
                temperature);
        }
    }

    // Of classes, since generic code over tuples is not compiled ahead and delays every start.
    private sealed record RawReading(DateTimeOffset At, long? Session, int Cell, ResistanceReading Reading, bool Instrument);

    private sealed record Method(bool Instrument, bool FromSession, double LagSeconds);
}
