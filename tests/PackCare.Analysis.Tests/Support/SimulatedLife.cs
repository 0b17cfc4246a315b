using PackCare.Core.Packs;
using PackCare.Core.Sessions;
using PackCare.Core.Units;
using PackCare.Simulation;

namespace PackCare.Analysis.Tests.Support;

/// <summary>A simulated pack with its record, for checking that a truth that was put in is found again.</summary>
internal sealed class SimulatedLife
{
    private static readonly DateTimeOffset Start = new(2025, 3, 1, 9, 0, 0, TimeSpan.Zero);

    private readonly List<SessionRecord> _sessions = [];
    private readonly List<SpotCheck> _checks = [];
    private readonly List<DiaryEntry> _entries = [];
    private readonly Instrument _instrument;
    private readonly Randomness _random;

    public SimulatedLife(int cells = 4, double capacityAh = 5, double milliohms = 3, Instrument? instrument = null, ulong seed = 1, Func<int, CellModel, CellModel>? vary = null)
    {
        _instrument = instrument ?? new Instrument { IntervalSeconds = 5 };
        _random = new Randomness(seed);
        RatedAh = capacityAh;
        Pack = new SimulatedPack(new PackModel
        {
            RatedAh = capacityAh,
            HeatJoulesPerKelvin = 100 * capacityAh,
            Cells = [.. Enumerable.Range(0, cells).Select(i =>
            {
                var cell = new CellModel { Curve = RestCurve.LiPo, CapacityAh = capacityAh, OhmicOhms = milliohms / 1000, SlowOhms = 0.6 * milliohms / 1000 };
                return vary?.Invoke(i, cell) ?? cell;
            })],
        });
        Now = Start;
    }

    public SimulatedPack Pack { get; }

    public double RatedAh { get; }

    public DateTimeOffset Now { get; private set; }

    public PackHistory History => new(
        new Pack(1, new PackDetails("Test", Pack.CellCount, RatedCapacity: new AmpereHours(RatedAh)), Start),
        _sessions,
        _checks,
        _entries);

    public SessionSummary Last => _sessions[^1].Summary;

    public SimulatedLife Rest(double days)
    {
        Pack.Rest(days, 22);
        Now = Now.AddDays(days);
        return this;
    }

    public SimulatedLife Work(Action<SimulatedSession> work, double celsius = 22)
    {
        Pack.SetTemperature(celsius);
        var session = new SimulatedSession(Pack, _instrument, _random, celsius);
        session.Rest(60);
        work(session);
        SimulatedLog log = session.Finish();
        _sessions.Add(new SessionRecord(_sessions.Count + 1, 1, $"{_sessions.Count + 1}.csv", Now, TimeQuality.Exact, SessionSummarizer.Summarize(Series.Of(log), Chemistry.LiPo)));
        Now = Now.AddSeconds(session.Seconds + 60);
        return this;
    }

    public SimulatedLife Charge(bool balance = true, double celsius = 22) => Work(
        session =>
        {
            session.Charge(new ChargePlan { Amperes = RatedAh, EndVolts = 4.20, EndAmperes = 0.05 * RatedAh, BleedAmperes = balance ? 0.25 : 0 });
            session.Rest(300);
        },
        celsius);

    public SimulatedLife Discharge() => Work(session =>
    {
        session.Discharge(RatedAh, 3.4);
        session.Rest(300);
    });

    public SimulatedLife Store() => Work(session =>
    {
        double mean = Enumerable.Range(0, Pack.CellCount).Average(cell => Pack.Truth(cell).RestVolts);
        if (mean < 3.82)
        {
            session.Charge(new ChargePlan { Amperes = 0.5 * RatedAh, EndVolts = 3.82, EndAmperes = 0.1 * RatedAh, BleedAmperes = 0 });
        }
        else
        {
            session.DischargeTo(RatedAh, 3.82, 0.1 * RatedAh);
        }

        session.Rest(180);
    });

    public SimulatedLife Check()
    {
        _checks.Add(new SpotCheck(_checks.Count + 1, Now, [.. Enumerable.Range(0, Pack.CellCount).Select(cell => Math.Round(Pack.Truth(cell).RestVolts, 3))], 22, []));
        return this;
    }

    public SimulatedLife Write(EntryKind kind, bool swollen = false, bool damaged = false, double? celsius = null)
    {
        _entries.Add(new DiaryEntry(_entries.Count + 1, Now, kind, swollen, damaged, celsius));
        return this;
    }

    public SimulatedLife Repeat(int times, Action<SimulatedLife> act)
    {
        for (int i = 0; i < times; i++)
        {
            act(this);
        }

        return this;
    }

    public Assessments.PackAssessment Assess() => PackAnalyzer.Analyze(History, Now);
}
