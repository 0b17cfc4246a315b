using System.Globalization;

namespace PackCare.Import.Tests;

/// <summary>Rows of an invented pack of three cells (8 mOhm each, 2.2 Ah, a nearly straight rest voltage), as text fields.</summary>
internal static class TestSession
{
    internal const double Ohms = 0.008;

    /// <summary>One row.</summary>
    /// <param name="Seconds">Since the start.</param>
    /// <param name="Amps">Charging positive.</param>
    /// <param name="Cells">Volts.</param>
    /// <param name="Charge">Ampere hours since the start, discharging negative.</param>
    internal sealed record Row(double Seconds, double Amps, double[] Cells, double Charge)
    {
        internal string T => Seconds.ToString(CultureInfo.InvariantCulture);

        internal string I => Amps.ToString("F2", CultureInfo.InvariantCulture);

        internal string Size => Math.Abs(Amps).ToString("F2", CultureInfo.InvariantCulture);

        internal string V => string.Join(',', Cells.Select(volts => volts.ToString("F3", CultureInfo.InvariantCulture)));

        internal string Pack => Cells.Sum().ToString("F3", CultureInfo.InvariantCulture);

        internal string Q => Charge.ToString("F4", CultureInfo.InvariantCulture);
    }

    /// <summary>Rows under a current that is given for each.</summary>
    internal static List<Row> Of(int rows, double interval, double from, Func<int, double> amps)
    {
        var all = new List<Row>();
        double charge = 0;
        for (int i = 0; i < rows; i++)
        {
            double flows = amps(i);
            charge += i == 0 ? 0 : (flows + amps(i - 1)) / 2 * interval / 3600;
            all.Add(new Row(i * interval, flows, [.. Enumerable.Range(0, 3).Select(c => Math.Round(from + (0.2 * charge) - (0.004 * c) + (Ohms * flows) + (0.0007 * (((i * 7) + (c * 5)) % 3)), 3))], charge));
        }

        return all;
    }

    /// <summary>A rest, a steady charge, a rest.</summary>
    internal static List<Row> Charge(int rows = 60, double interval = 40, double amps = 4) => Of(rows, interval, 3.7, i => i < 3 || i >= rows - 3 ? 0 : amps);

    /// <summary>A rest, a steady discharge, a rest.</summary>
    internal static List<Row> Discharge(int rows = 60, double interval = 40, double amps = 4) => Of(rows, interval, 4.15, i => i < 3 || i >= rows - 3 ? 0 : -amps);

    /// <summary>A log of rows under a header.</summary>
    internal static string Log(string header, IEnumerable<Row> rows, Func<Row, int, string> fields) => (header.Length == 0 ? "" : header + "\n") + string.Concat(rows.Select((row, i) => fields(row, i) + "\n"));
}
