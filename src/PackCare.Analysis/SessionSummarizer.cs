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
    public const int MethodVersion = 2;

    /// <summary>Summarises a session.</summary>
    /// <param name="samples">The samples.</param>
    /// <param name="chemistry">The pack's chemistry; <see cref="Chemistry.LiPo"/> where the pack is not known yet.</param>
    public static SessionSummary Summarize(SampleSeries samples, Chemistry chemistry)
    {
        var session = new SessionArrays(samples);
        ChemistryProfile profile = ChemistryProfile.Of(chemistry);
        ChargeCount? charge = ChargeCount.Of(session);
        RestSpan rest = RestSpan.Of(session);
        TemperatureSpan temperature = TemperatureSpan.Of(session);
        IReadOnlyList<CellSummary> cells = Cells(session, charge, rest, temperature, profile.Curve);
        double? endVolts = cells.Count == 0 ? null : cells.Average(cell => cell.EndRestVolts ?? cell.EndVolts);
        SessionKind kind = SessionEnd.Kind(session, charge, endVolts, profile);
        return new SessionSummary(
            MethodVersion,
            kind,
            session.Count == 0 ? 0 : session.Time[^1] - session.Time[0],
            session.Count,
            session.IntervalSeconds,
            charge?.InAh,
            charge?.OutAh,
            charge?.InWh,
            charge?.OutWh,
            session.Current is null ? null : Math.Max(0, session.Current.Where(double.IsFinite).DefaultIfEmpty(0).Max()),
            session.Current is null ? null : Math.Max(0, -session.Current.Where(double.IsFinite).DefaultIfEmpty(0).Min()),
            temperature.Mean,
            temperature.Min,
            temperature.Max,
            rest.StartSeconds,
            rest.EndSeconds,
            SessionEnd.Completed(session, kind, rest, profile),
            LeadResistance.Of(session),
            cells);
    }

    private static IReadOnlyList<CellSummary> Cells(SessionArrays session, ChargeCount? charge, RestSpan rest, TemperatureSpan temperature, RestVoltageCurve curve)
    {
        if (session.Count == 0)
        {
            return [];
        }

        IReadOnlyList<ResistanceReading?> resistances = StepResistance.Of(session, charge, curve);
        IReadOnlyList<ChargeAlignment?> alignments = CurveAlignment.Of(session, charge, resistances);
        return [.. session.Cells.Select((volts, i) =>
        {
            double[] finite = [.. volts.Where(double.IsFinite)];
            return new CellSummary(
                i + 1,
                finite.Length == 0 ? null : finite[0],
                finite.Length == 0 ? null : finite[^1],
                rest.StartVolts(volts),
                rest.EndVolts(volts),
                finite.Length == 0 ? null : finite.Min(),
                finite.Length == 0 ? null : finite.Max(),
                resistances[i],
                InstrumentResistance.Of(session.InstrumentOhms[i], temperature.Mean),
                alignments[i]);
        })];
    }
}
