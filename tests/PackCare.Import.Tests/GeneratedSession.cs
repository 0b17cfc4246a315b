namespace PackCare.Import.Tests;

/// <summary>An invented session with physically possible values: the truth that a written log must come back to.</summary>
/// <param name="TimeSeconds">Whole seconds since the start.</param>
/// <param name="MilliAmperes">Current in mA, charging positive.</param>
/// <param name="CellMillivolts">Voltage of each cell in mV.</param>
/// <param name="ChargeMilliAmpereHours">Charge counter in mAh.</param>
/// <param name="TenthsCelsius">Temperature in tenths of a degree.</param>
internal sealed record GeneratedSession(int[] TimeSeconds, int[] MilliAmperes, int[][] CellMillivolts, int[] ChargeMilliAmpereHours, int[] TenthsCelsius)
{
    internal int Rows => TimeSeconds.Length;

    internal int Cells => CellMillivolts.Length;

    private static readonly int[] Steps = [1, 2, 5, 10, 30, 60];

    /// <summary>Invents a session.</summary>
    /// <param name="random">Chance.</param>
    /// <param name="milliAmperes">The largest current, or null for 1 to 8 A.</param>
    internal static GeneratedSession Make(Random random, int? milliAmperes = null)
    {
        int rows = random.Next(14, 60);
        int cells = random.Next(2, 9);
        int step = Steps[random.Next(6)];
        bool discharge = random.Next(3) == 0;
        int amperes = random.Next(10, 80) * 100;
        int full = milliAmperes ?? amperes;
        var time = new int[rows];
        var current = new int[rows];
        var charge = new int[rows];
        var temperature = new int[rows];
        int[][] volts = [.. Enumerable.Range(0, cells).Select(_ => new int[rows])];
        int[] offsets = [.. Enumerable.Range(0, cells).Select(_ => random.Next(-12, 13))];
        int rest = random.Next(1, 4);
        double counted = 0;
        for (int i = 0; i < rows; i++)
        {
            time[i] = i * step;
            double size = i < rest ? 0 : full * (i < rows * 2 / 3 ? 1 : 1 - (0.8 * (i - (rows * 2.0 / 3)) / rows));
            current[i] = (int)Math.Round(discharge ? -size : size);
            if (i > 0)
            {
                counted += (current[i] + current[i - 1]) / 2.0 * step / 3600;
            }

            charge[i] = (int)Math.Round(counted);
            double drift = (discharge ? -260.0 : 260.0) * i / rows;
            for (int c = 0; c < cells; c++)
            {
                volts[c][i] = (int)Math.Round((discharge ? 4090 : 3700) + drift + (current[i] * 0.006) + offsets[c]);
            }

            temperature[i] = 213 + (i * 20 / rows);
        }

        return new GeneratedSession(time, current, volts, charge, temperature);
    }
}
