using System.Globalization;
using PackCare.Simulation;

namespace PackCare.Bench;

/// <summary>Invented logs of a fleet: every pack charged again and again, some with a cell that leaks or wears faster than the rest.</summary>
internal static class FleetLogs
{
    /// <summary>The moment after the last of them.</summary>
    public static readonly DateTime End = new(2026, 10, 30, 18, 0, 0, DateTimeKind.Utc);

    private const double DaysBetween = 3;
    private const double Ambient = 21;

    /// <summary>What a pack is called.</summary>
    public static string Label(int pack) => $"Pack {pack.ToString("00", CultureInfo.InvariantCulture)}";

    /// <summary>Cells of a pack in series, 3 to 6.</summary>
    public static int Cells(int pack) => 3 + (pack % 4);

    /// <summary>What is printed on a pack, in ampere hours.</summary>
    public static double RatedAh(int pack) => 2.2 + (0.4 * (pack % 6));

    /// <summary>Writes a file a session: a sample each ten seconds, in the last one each second.</summary>
    public static void Write(string folder, int packs, int sessions) =>
        Parallel.For(1, packs + 1, pack => WritePack(folder, pack, sessions));

    private static void WritePack(string folder, int pack, int sessions)
    {
        var random = Randomness.For(7, Label(pack));
        double rated = RatedAh(pack);
        var model = new PackModel
        {
            RatedAh = rated,
            HeatJoulesPerKelvin = 150 * rated,
            Cells = [.. Enumerable.Range(0, Cells(pack)).Select(_ => new CellModel
            {
                Curve = RestCurve.LiPo,
                CapacityAh = rated * (1 + (0.004 * random.NextNormal())),
                OhmicOhms = 0.013 / rated * (1 + (0.02 * random.NextNormal())),
                SlowOhms = 0.008 / rated,
            })],
        };
        var simulated = new SimulatedPack(model) { LeadOhms = 0.003 };
        if (pack % 5 == 0)
        {
            simulated.SetSelfDischarge(1, 0.04);
        }

        if (pack % 7 == 0)
        {
            simulated.SetWear(2, 0.001, 0.006);
        }

        for (int number = 0; number < sessions; number++)
        {
            bool last = number == sessions - 1;
            DateTime started = End.AddDays(-DaysBetween * (sessions - number)).AddMinutes(pack);
            new SimulatedSession(simulated, new Instrument { IntervalSeconds = 600 }, random, Ambient, stepSeconds: 5).Discharge(2 * rated, 3.5);
            simulated.Rest(DaysBetween, Ambient);
            var session = new SimulatedSession(simulated, new Instrument { IntervalSeconds = last ? 1 : 10 }, random, Ambient, last ? 1 : 2);
            session.Rest(60);
            session.Charge(new ChargePlan { Amperes = rated, EndVolts = 4.20, EndAmperes = rated / 20 });
            session.Rest(120);
            string name = $"{Label(pack)}_{started.ToString("yyyy-MM-dd'T'HHmm", CultureInfo.InvariantCulture)}.csv";
            using var writer = new StreamWriter(Path.Combine(folder, name));
            WriteLog(writer, session.Finish());
        }
    }

    private static void WriteLog(StreamWriter writer, SimulatedLog log)
    {
        writer.Write("time_s,current_a,pack_v");
        for (int cell = 1; cell <= log.CellVolts.Length; cell++)
        {
            writer.Write(string.Create(CultureInfo.InvariantCulture, $",cell{cell}_v"));
        }

        writer.Write(",charge_ah,temp_c\n");
        for (int row = 0; row < log.Count; row++)
        {
            writer.Write(string.Create(CultureInfo.InvariantCulture, $"{log.Seconds[row]:F0},{log.Amperes[row]:F2},{log.PackVolts[row]:F3}"));
            foreach (double[] cell in log.CellVolts)
            {
                writer.Write(string.Create(CultureInfo.InvariantCulture, $",{cell[row]:F3}"));
            }

            writer.Write(string.Create(CultureInfo.InvariantCulture, $",{log.ChargeAh[row]:F4},{log.Celsius[row]:F1}\n"));
        }
    }
}
