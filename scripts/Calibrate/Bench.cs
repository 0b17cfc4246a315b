using PackCare.Analysis;
using PackCare.Analysis.Assessments;
using PackCare.Core.Packs;
using PackCare.Core.Samples;
using PackCare.Core.Sessions;
using PackCare.Core.Units;
using PackCare.Simulation;

namespace PackCare.Calibrate;

/// <summary>A simulated pack on a simulated charger, with the record that comes of it.</summary>
internal sealed class Bench
{
    private readonly List<SessionRecord> _sessions = [];
    private readonly List<SpotCheck> _checks = [];

    /// <summary>Sets up a pack with random properties, all drawn from its own stream.</summary>
    /// <param name="random">Its stream.</param>
    /// <param name="vary">Changes single cells.</param>
    /// <param name="noiseVolts">Noise of a voltage reading; the resolution is 1 mV in any case.</param>
    /// <param name="intervalSeconds">Interval of the log.</param>
    public Bench(Randomness random, Func<int, CellModel, CellModel>? vary = null, double noiseVolts = 0.0005, double intervalSeconds = 5)
    {
        Random = random;
        RatedAh = random.NextBetween(1.5, 6);
        double ohms = 0.014 / RatedAh * random.NextBetween(0.8, 1.3);
        double slow = random.NextBetween(0.5, 0.9);
        double seconds = random.NextBetween(15, 50);
        double activation = random.NextBetween(10_000, 20_000);
        // Up to a fifth of the way to a curve of another kind of cell.
        RestCurve curve = RestCurve.Between(random.NextBetween(0, 0.2));
        Cells = 2 + (int)(5 * random.NextUniform());
        Pack = new SimulatedPack(new PackModel
        {
            RatedAh = RatedAh,
            HeatJoulesPerKelvin = 25 * RatedAh * Cells,
            LeadOhms = 0.02 / RatedAh,
            Cells = [.. Enumerable.Range(0, Cells).Select(i =>
            {
                var cell = new CellModel
                {
                    Curve = curve,
                    CapacityAh = RatedAh * (1 + (0.005 * random.NextNormal())),
                    OhmicOhms = ohms * (1 + (0.03 * random.NextNormal())),
                    SlowOhms = ohms * slow * (1 + (0.03 * random.NextNormal())),
                    SlowSeconds = seconds,
                    ActivationJoulesPerMole = activation,
                    SelfDischargePerMonth = 0.015 * random.NextBetween(0.9, 1.1),
                    InitialStateOfCharge = 0.45 + (0.002 * random.NextNormal()),
                };
                return vary?.Invoke(i, cell) ?? cell;
            })],
        });
        Instrument = new Instrument
        {
            IntervalSeconds = intervalSeconds,
            VoltNoise = noiseVolts,
            AmpereGain = 1 + (0.005 * random.NextNormal()),
            VoltOffsets = [.. Enumerable.Range(0, Cells).Select(_ => 0.0005 * random.NextNormal())],
        };
    }

    /// <summary>The pack.</summary>
    public SimulatedPack Pack { get; }

    /// <summary>Cells in series.</summary>
    public int Cells { get; }

    /// <summary>Rated capacity in ampere hours.</summary>
    public double RatedAh { get; }

    /// <summary>Its instrument.</summary>
    public Instrument Instrument { get; }

    /// <summary>Its stream.</summary>
    public Randomness Random { get; }

    /// <summary>The moment up to which it was lived.</summary>
    public DateTimeOffset Now { get; private set; } = new(2025, 9, 1, 8, 0, 0, TimeSpan.Zero);

    /// <summary>A room's temperature.</summary>
    public double Room() => Random.NextBetween(18, 26);

    /// <summary>Works on the pack with the log running.</summary>
    public void Log(Action<SimulatedSession> work)
    {
        double celsius = Room();
        Pack.SetTemperature(celsius);
        // Finer than the log, so that a change of current may come at any moment between two readings.
        var session = new SimulatedSession(Pack, Instrument, Random, celsius, Instrument.IntervalSeconds < 5 ? 0.5 : 1);
        session.Rest(Random.NextBetween(20, 60));
        work(session);
        SampleSeries samples = Samples(session.Finish());
        _sessions.Add(new SessionRecord(_sessions.Count + 1, 1, "simulated", Now, TimeQuality.Exact, SessionSummarizer.Summarize(samples, Chemistry.LiPo)));
        Now = Now.AddSeconds(session.Seconds);
        Rest(1.0 / 24);
    }

    /// <summary>Charges to the end.</summary>
    public void Charge(bool balance = true) => Log(session =>
    {
        session.Charge(new ChargePlan { Amperes = RatedAh, EndVolts = 4.20, EndAmperes = RatedAh / 20, BleedAmperes = balance ? 0.25 : 0 });
        session.Rest(Random.NextBetween(60, 300));
    });

    /// <summary>Discharges until a cell is low.</summary>
    public void Discharge() => Log(session =>
    {
        session.Discharge(0.8 * RatedAh, 3.45);
        session.Rest(300);
    });

    /// <summary>Discharges part of the charge with changing current.</summary>
    public void Part(double share) => Log(session =>
    {
        while (-session.TrueChargeAh < share * RatedAh && session.LowestVolts(-2 * RatedAh) > 3.4)
        {
            session.Run([new LoadStep(120, -RatedAh), new LoadStep(20, -2 * RatedAh), new LoadStep(20, 0)], 3.3);
        }

        session.Rest(300);
    });

    /// <summary>Brings it to storage level.</summary>
    public void Store() => Log(session =>
    {
        double mean = Enumerable.Range(0, Cells).Average(cell => Pack.Truth(cell).RestVolts);
        if (mean < 3.82)
        {
            session.Charge(new ChargePlan { Amperes = 0.5 * RatedAh, EndVolts = 3.82, EndAmperes = 0.1 * RatedAh, BleedAmperes = 0 });
        }
        else
        {
            session.DischargeTo(0.5 * RatedAh, 3.82, 0.1 * RatedAh);
        }

        session.Rest(Random.NextBetween(60, 200));
    });

    /// <summary>Lets it lie.</summary>
    public void Rest(double days)
    {
        Pack.Rest(days, 20);
        Now = Now.AddDays(days);
    }

    /// <summary>A spot check with the instrument's noise and a millivolt of resolution.</summary>
    public void Check() =>
        _checks.Add(new SpotCheck(_checks.Count + 1, Now, [.. Enumerable.Range(0, Cells).Select(cell => Math.Round(Pack.Truth(cell).RestVolts + (Instrument.VoltNoise * Random.NextNormal()), 3))], 20, []));

    /// <summary>The judgement now.</summary>
    public PackAssessment Assess() => PackAnalyzer.Analyze(
        new PackHistory(new Pack(1, new PackDetails("simulated", Cells, 1, Chemistry.LiPo, new AmpereHours(RatedAh)), Now), _sessions, _checks, []),
        Now);

    private static SampleSeries Samples(SimulatedLog log) => new(
    [
        Channel(ChannelKey.Time, log.Seconds, 1),
        Channel(ChannelKey.PackVoltage, log.PackVolts, 3),
        Channel(ChannelKey.Current, log.Amperes, 2),
        Channel(ChannelKey.Temperature(1), log.Celsius, 1),
        .. log.CellVolts.Select((volts, cell) => Channel(ChannelKey.Cell(cell + 1), volts, 3)),
    ]);

    private static Channel Channel(ChannelKey key, double[] values, int decimals)
    {
        double scale = Math.Pow(10, decimals);
        var writer = new ChannelWriter(key);
        foreach (double value in values)
        {
            writer.TryAppend((long)Math.Round(value * scale), decimals);
        }

        return writer.ToChannel();
    }
}
