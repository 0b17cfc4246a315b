using System.Globalization;
using System.Text;

namespace PackCare.Cli.Tests.Running;

/// <summary>Writes small charge logs in the plain layout; invented, and consistent: pack = sum of cells, charge = integral of current.</summary>
public static class PlainLog
{
    /// <summary>A charge: rest, constant current, taper, rest.</summary>
    /// <param name="cells">Cells in series.</param>
    /// <param name="seed">Varies the figures a little, so that no two files are alike.</param>
    /// <param name="minutes">Length of the constant-current part.</param>
    public static string Charge(int cells, int seed, int minutes = 30)
    {
        const int Interval = 5;
        const double Amperes = 2.0;
        const double Milliohms = 6;
        var text = new StringBuilder("time_s,current_a,pack_v");
        for (int cell = 1; cell <= cells; cell++)
        {
            text.Append(CultureInfo.InvariantCulture, $",cell{cell}_v");
        }

        text.Append(",charge_ah,temp_c\n");
        double charge = 0;
        double previous = 0;
        int full = minutes * 60;
        for (int time = 0; time <= full + 720; time += Interval)
        {
            double current = time < 30 ? 0 : time < full ? Amperes : time < full + 600 ? Math.Max(0.1, Amperes * Math.Exp(-(time - full) / 200.0)) : 0;
            current = Math.Round(current, 2);
            charge += (current + previous) / 2 * Interval / 3600;
            previous = current;
            double rise = Math.Min(1, (double)time / full);
            double rest = 3.70 + (0.49 * rise) + (seed % 7 * 0.001);
            var volts = new double[cells];
            for (int cell = 0; cell < cells; cell++)
            {
                volts[cell] = Math.Round(rest + (current * Milliohms / 1000) - (cell * 0.002), 3);
            }

            text.Append(CultureInfo.InvariantCulture, $"{time},{current:F2},{volts.Sum():F3},");
            text.AppendJoin(',', volts.Select(volt => volt.ToString("F3", CultureInfo.InvariantCulture)));
            text.Append(CultureInfo.InvariantCulture, $",{charge:F4},{21 + (rise * 4):F1}\n");
        }

        return text.ToString();
    }
}
