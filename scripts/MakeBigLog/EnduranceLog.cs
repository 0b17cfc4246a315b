using System.Buffers.Text;
using PackCare.Simulation;

namespace PackCare.BigLog;

/// <summary>A log as long as one likes, written as it is simulated: memory does not grow with its length.</summary>
public static class EnduranceLog
{
    private const int Cells = 6;
    private const double RatedAh = 5;
    private const double Ambient = 22;

    /// <summary>Writes the log in the plain layout, one row a second.</summary>
    /// <param name="target">Where to.</param>
    /// <param name="rows">Rows below the header, 1 or more.</param>
    public static void Write(Stream target, long rows)
    {
        target.Write("time_s,current_a,pack_v,cell1_v,cell2_v,cell3_v,cell4_v,cell5_v,cell6_v,charge_ah,temp_c\n"u8);
        var random = new Randomness(1);
        var pack = Pack(random);
        var instrument = new Instrument { IntervalSeconds = 1 };
        Span<byte> row = stackalloc byte[256];
        var (written, second, counted) = (0L, 0L, 0.0);
        while (written < rows)
        {
            var cycle = Cycle(pack, instrument, random);
            // Each cycle begins with the sample that ended the one before; it is written once.
            for (var i = written == 0 ? 0 : 1; i < cycle.Count && written < rows; i++, written++, second++)
            {
                target.Write(row[..Format(row, cycle, i, second, counted)]);
            }

            counted += cycle.ChargeAh[^1];
        }
    }

    private static SimulatedLog Cycle(SimulatedPack pack, Instrument instrument, Randomness random)
    {
        var session = new SimulatedSession(pack, instrument, random, Ambient);
        session.Rest(300);
        session.Charge(new ChargePlan { Amperes = RatedAh, EndVolts = 4.20, EndAmperes = RatedAh / 20 });
        session.Rest(900);
        while (!session.Run([new LoadStep(50, -RatedAh * random.NextBetween(0.9, 1.4)), new LoadStep(10, -RatedAh * random.NextBetween(3, 4)), new LoadStep(20, -0.25)], 3.4))
        {
        }

        session.Rest(900);
        return session.Finish();
    }

    private static SimulatedPack Pack(Randomness random) => new(new PackModel
    {
        RatedAh = RatedAh,
        HeatJoulesPerKelvin = 750,
        Cells = [.. Enumerable.Range(0, Cells).Select(_ => new CellModel
        {
            Curve = RestCurve.LiPo,
            CapacityAh = RatedAh * (1 + (0.004 * random.NextNormal())),
            OhmicOhms = 0.0026 * (1 + (0.02 * random.NextNormal())),
            SlowOhms = 0.0016,
        })],
    });

    private static int Format(Span<byte> row, SimulatedLog log, int i, long second, double counted)
    {
        Utf8Formatter.TryFormat(second, row, out var at);
        Append(row, ref at, log.Amperes[i], 2);
        Append(row, ref at, log.PackVolts[i], 3);
        foreach (var cell in log.CellVolts)
        {
            Append(row, ref at, cell[i], 3);
        }

        Append(row, ref at, counted + log.ChargeAh[i], 3);
        Append(row, ref at, log.Celsius[i], 1);
        row[at++] = (byte)'\n';
        return at;
    }

    private static void Append(Span<byte> row, ref int at, double value, int decimals)
    {
        // Whole numbers of the last decimal place: many times quicker than formatting a double, and exact.
        var scale = decimals switch { 1 => 10, 2 => 100, _ => 1000 };
        var units = (long)Math.Round(value * scale, MidpointRounding.AwayFromZero);
        row[at++] = (byte)',';
        if (units < 0)
        {
            row[at++] = (byte)'-';
            units = -units;
        }

        Utf8Formatter.TryFormat(units / scale, row[at..], out var length);
        at += length;
        row[at++] = (byte)'.';
        for (var digit = scale / 10; digit > 0; digit /= 10)
        {
            row[at++] = (byte)('0' + (units / digit % 10));
        }
    }
}
