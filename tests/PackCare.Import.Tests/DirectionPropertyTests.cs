using System.Globalization;
using PackCare.Core.Reading;
using PackCare.Core.Samples;

namespace PackCare.Import.Tests;

/// <summary>
/// Which way charge flows, for packs that are simulated: rest voltage, resistance, polarisation, noise; loads of every shape, with a sign, with the
/// opposite sign and without one. The truth is known because it was made.
/// </summary>
public class DirectionPropertyTests
{
    private enum Shape
    {
        Steady,
        Sine,
        Square,
        Ramp,
        Decay,
        Random,
        ChargeToFull,
    }

    [Fact]
    public void No_direction_is_wrong_without_a_word()
    {
        var wrong = new List<string>();
        int right = 0;
        foreach (int seed in Seeds.OfThisRun(1200))
        {
            (string log, bool charges, string what) = Log(seed);
            ReadResult result = Logs.ReadText(log);
            if (result.Refused || result.Problems.Any(problem => problem.Code is "sign-assumed" or "sign-by-little"))
            {
                continue;
            }

            decimal net = result.Sessions.Sum(session => session.Samples[ChannelKey.Current]!.ToDecimals().Sum(value => value ?? 0));
            if (net == 0 || net > 0 == charges)
            {
                right++;
            }
            else
            {
                wrong.Add($"{seed}: {what}");
            }
        }

        Assert.True(wrong.Count == 0, $"{wrong.Count} of {right + wrong.Count} are wrong:\n{string.Join('\n', wrong.Take(30))}");
        Assert.True(right * 10 > Seeds.OfThisRun(1200).Count() * 8, $"Only {right} are read.");
    }

    private static (string Log, bool Charges, string What) Log(int seed)
    {
        var random = new Random(seed);
        bool charges = random.Next(2) == 0;
        Shape shape = charges ? (Shape)random.Next(7) : (Shape)random.Next(6);
        int sign = random.Next(3);
        double capacity = 0.8 + (6 * random.NextDouble());
        double rate = capacity * (charges ? 0.4 + random.NextDouble() : 1 + (9 * random.NextDouble()));
        double interval = new double[] { 1, 2, 5, 10, 20 }[random.Next(5)];
        int rows = 20 + random.Next(180);
        int before = random.Next(3) == 0 ? 0 : 2 + random.Next(8);
        int after = random.Next(3) == 0 ? 0 : 2 + random.Next(8);
        double ohms = 0.02 / capacity * (1 + random.NextDouble());
        double period = 3 + random.Next(20);
        double soc = charges ? 0.1 + (0.6 * random.NextDouble()) : 0.5 + (0.5 * random.NextDouble());
        double polarised = 0;
        double counted = 0;
        double level = 1;
        bool counter = random.Next(2) == 0;
        int cells = 1 + random.Next(4);
        var lines = new List<string>();
        for (int row = 0; row < rows; row++)
        {
            bool flows = row >= before && row < rows - after;
            double part = shape switch
            {
                Shape.Sine => 0.7 + (0.3 * Math.Sin(2 * Math.PI * row / period)),
                Shape.Square => row / (int)period % 2 == 0 ? 1 : 0.5,
                Shape.Ramp => 0.2 + (0.8 * row / rows),
                Shape.Decay => Math.Exp(-3.0 * row / rows),
                Shape.Random => 0.4 + (0.6 * random.NextDouble()),
                _ => 1,
            };
            double magnitude = flows ? rate * part * level : 0;

            // What holds the cells at their end ends the log.
            double rest = Rest(soc);
            if (charges && flows && rest + polarised + (ohms * magnitude) > 4.2)
            {
                magnitude = shape == Shape.ChargeToFull ? Math.Max(0, (4.2 - rest - polarised) / ohms) : 0;
            }

            if ((!charges && flows && soc < 0.04) || (charges && flows && magnitude < 0.03 * rate))
            {
                magnitude = 0;
                level = 0;
            }

            magnitude = Math.Round(magnitude, 2);
            double amps = charges ? magnitude : -magnitude;
            soc += amps * interval / 3600 / capacity;
            counted += amps * interval / 3600;
            polarised += ((amps * ohms * 0.5) - polarised) * (1 - Math.Exp(-interval / 30));
            string[] volts = [.. Enumerable.Range(0, cells).Select(cell => (Rest(soc) + polarised + (ohms * amps) + (0.003 * cell) + (0.0006 * (random.NextDouble() - 0.5))).ToString("F3", CultureInfo.InvariantCulture))];
            double written = sign switch { 0 => amps, 1 => -amps, _ => magnitude };
            lines.Add(string.Create(CultureInfo.InvariantCulture, $"{row * interval:0};{written:F2};{string.Join(';', volts)}{(counter ? $";{counted * (sign == 1 ? -1 : 1):F4}" : "")}"));
        }

        string header = $"Time (s);Current (A);{string.Join(';', Enumerable.Range(1, cells).Select(cell => $"Cell {cell} (V)"))}{(counter ? ";Charge (Ah)" : "")}";
        return ($"{header}\n{string.Join('\n', lines)}\n", charges, $"{(charges ? "charge" : "discharge")} {shape} sign {sign} {cells}S every {interval} s, {rows} rows, rests {before} and {after}");
    }

    private static double Rest(double soc) => 3.3 + (0.55 * soc) + (0.35 * Math.Pow(Math.Clamp(soc, 0, 1), 0.3)) - (0.03 / (Math.Max(soc, 0) + 0.05)) + (0.03 / 1.05);
}
