using PackCare.Analysis;
using PackCare.Analysis.Assessments;
using PackCare.Core.Packs;
using PackCare.Core.Sessions;
using PackCare.Core.Units;
using PackCare.Simulation;

namespace PackCare.CalibrationStudy;

/// <summary>One simulated pack: twelve charges over some eight months, each followed by a run or a measured discharge and a storage charge.</summary>
internal sealed class Trial
{
    private const int Outings = 12;
    private const double Room = 22;

    // The analysis takes its baseline from the first five sessions that show a resistance.
    private const int BaselineSessions = 5;
    private static readonly double[] Intervals = [1, 2, 5, 10];

    private readonly Randomness _random;
    private readonly SimulatedPack _pack;
    private readonly Instrument _instrument;
    private readonly double _ratedAh;
    private readonly int? _leaking;
    private readonly double[] _lostAtRest;
    private readonly List<SessionRecord> _sessions = [];
    private readonly List<double[]> _growths = [];
    private DateTimeOffset _time = new(2025, 9, 1, 8, 0, 0, TimeSpan.Zero);
    private double _restDays;

    private Trial(Randomness random, double curveSpread)
    {
        _random = random;
        _ratedAh = random.NextBetween(1.3, 6);
        var cells = 2 + (int)(5 * random.NextUniform());
        var worn = random.NextUniform() < 0.5;
        var fade = worn ? random.NextBetween(0, 0.025) : 0.0003;
        var growth = worn ? random.NextBetween(0, 0.12) : 0.001;
        var capacity = random.NextBetween(0.97, 1.03);
        var ohms = 0.013 / _ratedAh * random.NextBetween(0.8, 1.5);
        var slow = random.NextBetween(0.5, 1);
        var seconds = random.NextBetween(15, 60);
        var activation = random.NextBetween(10_000, 20_000);
        _leaking = random.NextUniform() < 0.3 ? (int)(cells * random.NextUniform()) : null;
        var leak = random.NextBetween(0.05, 0.20);
        _lostAtRest = new double[cells];
        var curve = RestCurve.Between(random.NextBetween(0, curveSpread));
        _pack = new SimulatedPack(new PackModel
        {
            RatedAh = _ratedAh,
            HeatJoulesPerKelvin = 25 * _ratedAh * cells,
            LeadOhms = 0.02 / _ratedAh,
            Cells = [.. Enumerable.Range(0, cells).Select(cell => new CellModel
            {
                Curve = curve,
                CapacityAh = _ratedAh * capacity * (1 + (0.003 * random.NextNormal())),
                OhmicOhms = ohms * (1 + (0.02 * random.NextNormal())),
                SlowOhms = ohms * slow,
                SlowSeconds = seconds,
                ActivationJoulesPerMole = activation,
                FadePerCycle = fade,
                GrowthPerCycle = growth,
                SelfDischargePerMonth = cell == _leaking ? leak : 0.015 * random.NextBetween(0.9, 1.1),
                InitialStateOfCharge = 0.45 + (0.002 * random.NextNormal()),
            })],
        });
        _instrument = new Instrument
        {
            IntervalSeconds = Intervals[(int)(Intervals.Length * random.NextUniform())],
            AmpereGain = 1 + (0.002 * random.NextNormal()),
            VoltOffsets = [.. Enumerable.Range(0, cells).Select(_ => 0.0005 * random.NextNormal())],
        };
    }

    /// <summary>Estimates beside truths.</summary>
    public List<Comparison> Comparisons { get; } = [];

    /// <summary>Findings beside what was due.</summary>
    public List<Verdict> Verdicts { get; } = [];

    /// <summary>Runs a trial.</summary>
    /// <param name="seed">Seed of the study.</param>
    /// <param name="number">Number of the trial; each has random numbers of its own.</param>
    /// <param name="curveSpread">
    /// Largest share by which a pack's rest curve leaves the one that the analysis knows (<see cref="RestCurve.Between"/>); 0 for none.
    /// </param>
    public static Trial Run(ulong seed, int number, double curveSpread)
    {
        var trial = new Trial(Randomness.For(seed, $"pack {number}"), curveSpread);
        trial.Live();
        trial.Judge();
        return trial;
    }

    private void Live()
    {
        for (var outing = 0; outing < Outings; outing++)
        {
            Log(Room, session =>
            {
                session.Rest(_random.NextBetween(20, 60));
                session.Charge(new ChargePlan { Amperes = _ratedAh, EndVolts = 4.20, EndAmperes = _ratedAh / 20 });
                session.Rest(_random.NextBetween(60, 300));
            });
            if (outing % 4 == 1)
            {
                Log(Room, session =>
                {
                    session.Rest(40);
                    session.Discharge(0.8 * _ratedAh, 3.45);
                    session.Rest(300);
                });
            }
            else
            {
                Log(_random.NextBetween(8, 25), RunOnce);
            }

            Log(Room, session =>
            {
                session.Rest(_random.NextBetween(20, 60));
                session.Charge(new ChargePlan { Amperes = 0.5 * _ratedAh, EndVolts = 3.82, EndAmperes = 0.1 * _ratedAh, BleedAmperes = 0 });
                session.Rest(_random.NextBetween(60, 200));
            });
            Rest(_random.NextBetween(7, 35));
        }
    }

    private void RunOnce(SimulatedSession session)
    {
        session.Rest(30);
        while (-session.TrueChargeAh < 0.68 * _ratedAh && session.LowestVolts(-4 * _ratedAh) > 3.3)
        {
            session.Run(
                [
                    new LoadStep(50, -_ratedAh * _random.NextBetween(1.2, 2)),
                    new LoadStep(12, -_ratedAh * _random.NextBetween(3.5, 5)),
                    new LoadStep(25, -0.25),
                ],
                2.8);
        }

        session.Rest(150);
    }

    private void Log(double ambient, Action<SimulatedSession> work)
    {
        if (_growths.Count < BaselineSessions)
        {
            _growths.Add([.. Enumerable.Range(0, _pack.CellCount).Select(Growth)]);
        }

        _pack.SetTemperature(ambient);
        var session = new SimulatedSession(_pack, _instrument, _random, ambient);
        work(session);
        var samples = Series.Of(session.Finish());
        _sessions.Add(new SessionRecord(_sessions.Count + 1, 1, "simulated", _time, TimeQuality.Exact, SessionSummarizer.Summarize(samples, Chemistry.LiPo)));
        _time = _time.AddSeconds(session.Seconds + 1800);
        _pack.Rest(1800.0 / 86400, ambient);
    }

    private void Rest(double days)
    {
        var before = Truths().Select(cell => cell.StateOfCharge).ToArray();
        _pack.Rest(days, 18);
        for (var cell = 0; cell < _lostAtRest.Length; cell++)
        {
            _lostAtRest[cell] += before[cell] - _pack.Truth(cell).StateOfCharge;
        }

        _restDays += days;
        _time = _time.AddDays(days);
    }

    private IEnumerable<CellTruth> Truths() => Enumerable.Range(0, _pack.CellCount).Select(_pack.Truth);

    private void Judge()
    {
        var details = new PackDetails("simulated", _pack.CellCount, 1, Chemistry.LiPo, new AmpereHours(_ratedAh));
        var assessment = PackAnalyzer.Analyze(new PackHistory(new Pack(1, details, _time), _sessions, [], []), _time);
        var truths = Truths().ToArray();
        var interval = _instrument.IntervalSeconds;

        var capacity = truths.Min(cell => cell.CapacityAh);
        Comparisons.Add(new Comparison("capacity (Ah)", assessment.Capacity.LatestAh, capacity));
        Comparisons.Add(new Comparison("leads (mOhm)", assessment.Resistance.LeadMilliohms, _pack.LeadOhms * 1000));
        foreach (var cell in assessment.Resistance.Cells)
        {
            var truth = truths[cell.Cell - 1];
            if (assessment.Resistance.LagSeconds is { } lag)
            {
                Comparisons.Add(new Comparison($"resistance at the stated lag (mOhm), sampled every {interval} s", cell.Milliohms, truth.StepOhms(lag) * 1000));
            }

            Comparisons.Add(new Comparison("resistance over its baseline", cell.Ratio, Growth(cell.Cell - 1) / _growths.Average(growth => growth[cell.Cell - 1])));
        }

        Decide(assessment, truths, capacity);
    }

    private double Growth(int cell) => _pack.Truth(cell).OhmicOhms / _pack.Model.Cells[cell].OhmicOhms;

    private void Decide(PackAssessment assessment, CellTruth[] truths, double capacity)
    {
        // "Clearly" leaves a margin on both sides of the watch limit, within which either answer is right.
        Add(FindingCode.Capacity, Clearly(-capacity / _ratedAh, -0.85, 0.02));
        Add(FindingCode.Resistance, Clearly(Enumerable.Range(0, truths.Length).Max(Growth), 1.5, 0.15));
        Add(FindingCode.SelfDischarge, _leaking is { } cell ? Clearly(ExtraLossPerWeek(cell), 0.3, 0.15) : false);
        foreach (var code in Enum.GetValues<FindingCode>().Except([FindingCode.Capacity, FindingCode.Resistance, FindingCode.SelfDischarge]))
        {
            // A leak shows as an offset and a spread too; nothing else was put in.
            bool? due = _leaking is not null && code is FindingCode.ChargeOffset or FindingCode.RestSpread ? null : false;
            Add(code, due);
        }

        void Add(FindingCode code, bool? due) =>
            Verdicts.Add(new Verdict(code.ToString(), due, assessment.Findings.Any(finding => finding.Code == code && finding.Level > FindingLevel.Note)));
    }

    private double ExtraLossPerWeek(int cell)
    {
        var others = Enumerable.Range(0, _lostAtRest.Length).Where(other => other != cell).Average(other => _lostAtRest[other]);
        return 100 * (_lostAtRest[cell] - others) / (_restDays / 7);
    }

    private static bool? Clearly(double value, double limit, double margin) =>
        value > limit + margin ? true : value < limit - margin ? false : null;
}
