using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using PackCare.Analysis;
using PackCare.Core.Packs;
using PackCare.Core.Reading;
using PackCare.Core.Samples;
using PackCare.Core.Sessions;
using PackCare.Core.Units;
using PackCare.Simulation;
using PackCare.Store;

namespace PackCare.Bench;

/// <summary>
/// An invented fleet. A few packs are simulated, charge and discharge in turns, and summarised as an import would; every pack
/// of the fleet is one of them moved in time. Of the samples, only the first rows are kept.
/// </summary>
internal sealed class Fleet
{
    /// <summary>Cells of every pack.</summary>
    public const int Cells = 4;

    private const int Kinds = 8;
    private const int KeptRows = 20;
    private const double CapacityAh = 5;

    private static readonly DateTimeOffset _start = new(2025, 1, 6, 8, 0, 0, TimeSpan.Zero);

    private readonly List<(SessionLog Log, SessionSummary Summary)>[] _kinds;
    private readonly int _sessions;

    /// <summary>Simulates the kinds.</summary>
    public Fleet(int sessions)
    {
        _sessions = sessions;
        _kinds = [.. Enumerable.Range(0, Kinds).AsParallel().AsOrdered().Select(Simulate)];
    }

    /// <summary>A moment after the last session.</summary>
    public DateTimeOffset Now => _start.AddDays(_sessions + 2);

    /// <summary>The label of a pack, numbered from 1.</summary>
    public static string Label(int number) => string.Create(CultureInfo.InvariantCulture, $"Barge {number:0000}");

    /// <summary>Adds packs with all their sessions: a file a day with one session of each, so that those of a pack lie far apart, as in life.</summary>
    public void Add(string path, int first, int last)
    {
        using History history = History.Open(path, create: true);
        (int Number, long Id)[] packs = [.. Enumerable.Range(first, last - first + 1).Select(number =>
            (number, history.AddPack(new PackDetails(Label(number), Cells, RatedCapacity: new AmpereHours(CapacityAh)), _start)!.Id))];
        for (int day = 0; day < _sessions; day++)
        {
            string name = string.Create(CultureInfo.InvariantCulture, $"day-{day:000}-from-{first:0000}.csv");
            var file = new ImportedFile(
                Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(name))),
                name,
                1000,
                _start.AddDays(day),
                new LogReading(',', '.', "us-ascii", LogLayout.Wide, "elapsed seconds", [], []),
                new Ledger(1000, 1, 0, 999, 0, 0, 0, 0),
                []);
            history.AddFile(file, [.. packs.Select(pack => Session(pack.Number, pack.Id, day))]);
        }
    }

    /// <summary>A log in the plain layout of one charge, another for each round.</summary>
    public static string WriteLog(int round)
    {
        SimulatedSession session = Begin(NewPack(0), round);
        session.Charge(new ChargePlan { Amperes = CapacityAh, EndVolts = 4.20, EndAmperes = 0.5 });
        session.Rest(120);
        SimulatedLog log = session.Finish();
        var text = new StringBuilder("time_s,current_a,pack_v,cell1_v,cell2_v,cell3_v,cell4_v,temp_c\n");
        for (int row = 0; row < log.Count; row++)
        {
            text.Append(CultureInfo.InvariantCulture, $"{log.Seconds[row]:F0},{log.Amperes[row]:F2},{log.CellVolts.Sum(cell => cell[row]):F3},");
            text.AppendJoin(',', log.CellVolts.Select(cell => cell[row].ToString("F3", CultureInfo.InvariantCulture)));
            text.Append(CultureInfo.InvariantCulture, $",{log.Celsius[row]:F1}\n");
        }

        return text.ToString();
    }

    private NewSession Session(int number, long id, int day)
    {
        (SessionLog log, SessionSummary summary) = _kinds[number % Kinds][day];
        return new NewSession(id, log with { Started = _start.AddDays(day).AddSeconds(number) }, summary);
    }

    // Every other kind ends on a charge: half of the fleet sits full.
    private List<(SessionLog Log, SessionSummary Summary)> Simulate(int kind)
    {
        SimulatedPack pack = NewPack(kind);
        var sessions = new List<(SessionLog, SessionSummary)>();
        for (int day = 0; day < _sessions; day++)
        {
            SimulatedSession session = Begin(pack, (1000 * (kind + 1)) + day);
            if (day % 2 == kind % 2)
            {
                session.Discharge(CapacityAh, 3.4);
            }
            else
            {
                session.Charge(new ChargePlan { Amperes = CapacityAh, EndVolts = 4.20, EndAmperes = 0.25, BleedAmperes = 0.2 });
            }

            session.Rest(180);
            SimulatedLog log = session.Finish();
            SessionSummary summary = SessionSummarizer.Summarize(Samples(log, log.Count), Chemistry.LiPo);
            sessions.Add((new SessionLog(_start, TimeQuality.Exact, null, 2, log.Count + 1, Samples(log, KeptRows)), summary));
            pack.Rest(0.9, 20);
        }

        return sessions;
    }

    private static SimulatedPack NewPack(int kind) => new(new PackModel
    {
        RatedAh = CapacityAh,
        HeatJoulesPerKelvin = 100 * CapacityAh,
        Cells = [.. Enumerable.Range(0, Cells).Select(cell => new CellModel
        {
            Curve = RestCurve.LiPo,
            CapacityAh = CapacityAh * (1 - (0.004 * kind)),
            OhmicOhms = 0.002 + (0.0002 * kind) + (0.0001 * cell),
            SlowOhms = 0.0015,
        })],
    });

    private static SimulatedSession Begin(SimulatedPack pack, int seed)
    {
        pack.SetTemperature(21);
        var session = new SimulatedSession(pack, new Instrument { IntervalSeconds = 10 }, new Randomness((ulong)seed), 21, stepSeconds: 2);
        session.Rest(60);
        return session;
    }

    private static SampleSeries Samples(SimulatedLog log, int rows)
    {
        int count = Math.Min(rows, log.Count);
        return new SampleSeries(
        [
            Channel(ChannelKey.Time, log.Seconds, count, 0),
            Channel(ChannelKey.Current, log.Amperes, count, 2),
            Channel(ChannelKey.Temperature(1), log.Celsius, count, 1),
            .. log.CellVolts.Select((volts, cell) => Channel(ChannelKey.Cell(cell + 1), volts, count, 3)),
        ]);
    }

    private static Channel Channel(ChannelKey key, double[] values, int count, int decimals)
    {
        var writer = new ChannelWriter(key);
        for (int row = 0; row < count; row++)
        {
            writer.TryAppend((long)Math.Round(values[row] * Math.Pow(10, decimals)), decimals);
        }

        return writer.ToChannel();
    }
}
