using PackCare.Analysis.Chemistries;
using PackCare.Analysis.Summaries;
using PackCare.Core.Packs;
using PackCare.Core.Samples;
using PackCare.Core.Sessions;

namespace PackCare.Analysis;

/// <summary>Derives the summary of a session from its samples.</summary>
public static class SessionSummarizer
{
    /// <summary>Version of the method; raised whenever the same samples would give another summary.</summary>
    public const int MethodVersion = 5;

    /// <summary>Summarises a session.</summary>
    /// <param name="samples">The samples.</param>
    /// <param name="chemistry">The pack's chemistry; <see cref="Chemistry.LiPo"/> where the pack is not known yet.</param>
    public static SessionSummary Summarize(SampleSeries samples, Chemistry chemistry)
    {
        using var session = new SessionSamples(samples);
        ChemistryProfile profile = ChemistryProfile.Of(chemistry);
        using ChargeCount? charge = ChargeCount.Of(session);
        RestSpan rest = RestSpan.Of(session);
        TemperatureSpan temperature = TemperatureSpan.Of(session);
        IReadOnlyList<CellSummary> cells = Cells(session, charge, rest, temperature, profile.Curve);
        double? endVolts = cells.Count == 0 ? null : cells.Average(cell => cell.EndRestVolts ?? cell.EndVolts);
        SessionKind kind = SessionEnd.Kind(session, charge, cells, endVolts, profile);
        return new SessionSummary(
            MethodVersion,
            kind,
            session.Count == 0 ? 0 : session.Time[session.Count - 1] - session.Time[0],
            session.Count,
            session.IntervalSeconds,
            charge?.InAh,
            charge?.OutAh,
            charge?.InWh,
            charge?.OutWh,
            PeakOf(session.Current?.Figures, figures => figures.Max),
            PeakOf(session.Current?.Figures, figures => -figures.Min),
            temperature.Mean,
            temperature.Min,
            temperature.Max,
            rest.StartSeconds,
            rest.EndSeconds,
            SessionEnd.Completed(session, kind, rest, profile),
            LeadResistance.Of(session, temperature),
            cells);
    }

    private static double? PeakOf(ColumnFigures? current, Func<ColumnFigures, double> side) =>
        current is null ? null : current.Present == 0 ? 0 : Math.Max(0, side(current));

    private static IReadOnlyList<CellSummary> Cells(SessionSamples session, ChargeCount? charge, RestSpan rest, TemperatureSpan temperature, RestVoltageCurve curve)
    {
        if (session.Count == 0)
        {
            return [];
        }

        IReadOnlyList<ResistanceReading?> resistances = StepResistance.Of(session, charge, curve);
        IReadOnlyList<ChargeAlignment?> alignments = CurveAlignment.Of(session, charge, resistances);
        return [.. session.Cells.Select((volts, i) =>
        {
            ColumnFigures? figures = volts.Figures.Present == 0 ? null : volts.Figures;
            return new CellSummary(
                i + 1,
                figures?.First,
                figures?.Last,
                rest.StartVolts(volts),
                rest.EndVolts(volts),
                figures?.Min,
                figures?.Max,
                resistances[i],
                InstrumentResistance.Of(session.InstrumentOhms[i], temperature.Mean),
                alignments[i]);
        })];
    }
}
