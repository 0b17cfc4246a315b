using System.Globalization;
using System.Text;
using PackCare.Simulation;

namespace PackCare.SampleLogs;

/// <summary>
/// The team's stations. All are invented, and so is each way of writing: general words, units and marks in as many
/// combinations as a reader has to expect, none of them any real device's.
/// </summary>
internal static class Stations
{
    private static readonly CultureInfo Invariant = CultureInfo.InvariantCulture;
    private static readonly UTF8Encoding Utf8 = new(encoderShouldEmitUTF8Identifier: false);
    private static readonly UTF8Encoding Utf8WithMark = new(encoderShouldEmitUTF8Identifier: true);

    /// <summary>Bench A: comma, point, seconds since the start, SI units; pack and start stand in the file name.</summary>
    public static Station BenchA { get; } = new(
        "bench-a",
        new Instrument { IntervalSeconds = 5, AmpereGain = 1.002, VoltOffsets = [0.0005, -0.0004, 0.0003, -0.0006, 0.0002, 0.0001] },
        meta => $"{meta.Started:yyyy-MM-dd_HHmm}_{Named(meta)}.csv",
        _ => Utf8,
        "\n",
        (meta, log) => Rows(
            log,
            [$"time_s,current_a,pack_v,{Cells(log, cell => $"cell{cell}_v", ",")},charge_ah,temp_c"],
            i => $"{Number(log.Seconds[i], 0)},{Number(log.Amperes[i], 2)},{Number(log.PackVolts[i], 3)},{Volts(log, i, ",")},{Number(log.ChargeAh[i], 3)},{Number(log.Celsius[i], 1)}"));

    /// <summary>Workshop: German words, semicolon, decimal comma, a row of units, hours:minutes:seconds; Windows-1252 until its computer was replaced in the first week, UTF-8 since; pack and start in the lines above.</summary>
    public static Station Workshop { get; } = new(
        "workshop",
        new Instrument { IntervalSeconds = 5, AmpereGain = 0.998, VoltOffsets = [-0.0003, 0.0006, -0.0002] },
        meta => $"messung_{meta.Number:0000}.csv",
        meta => meta.Started.Date < new DateTime(2025, 9, 20) ? Encoding.Latin1 : Utf8,
        "\r\n",
        (meta, log) => Rows(
            log,
            [
                "# Messung der Werkstatt (erfundene Daten)",
                $"# Akku: {meta.Pack}",
                $"# Beginn: {meta.Started:dd.MM.yyyy HH:mm:ss}",
                $"Zeit;Strom;Spannung;{Cells(log, cell => $"Zelle {cell}", ";")};Ladung;Temperatur",
                $"hh:mm:ss;A;V;{Cells(log, _ => "V", ";")};Ah;°C",
            ],
            i => Comma($"{Clock(log.Seconds[i])};{Number(log.Amperes[i], 2)};{Number(log.PackVolts[i], 3)};{Volts(log, i, ";")};{Number(log.ChargeAh[i], 3)};{Number(log.Celsius[i], 1)}")));

    /// <summary>Field case: ISO 8601 with offset, whole millivolts, milliamperes and milliampere hours; the pack is a column; no pack voltage; one file a day.</summary>
    public static Station FieldCase { get; } = new(
        "field-case",
        new Instrument { IntervalSeconds = 5, AmpereGain = 1.003, VoltOffsets = [0.0002, 0.0004, -0.0005, 0.0003] },
        meta => $"case_{meta.Started:yyyyMMdd}.csv",
        _ => Utf8,
        "\n",
        (meta, log) => Rows(
            log,
            [$"timestamp,pack,current_mA,{Cells(log, cell => $"cell_{cell}_mV", ",")},charge_mAh,temperature_C"],
            i => $"{meta.Started.AddSeconds(log.Seconds[i]):yyyy-MM-dd'T'HH:mm:sszzz},{meta.Pack},{Number(log.Amperes[i] * 1000, 0)},{Millivolts(log, i, ",")},{Number(log.ChargeAh[i] * 1000, 0)},{Number(log.Celsius[i], 1)}"),
        OneFileADay: true);

    /// <summary>Boathouse: tabs, local date and time in one field, two counters, a word for what is going on; byte order mark; the pack stands in the file name.</summary>
    public static Station Boathouse { get; } = new(
        "boathouse",
        new Instrument { IntervalSeconds = 10, AmpereGain = 0.999, VoltOffsets = [-0.0002, 0.0003, 0.0005, -0.0004, 0.0001, -0.0003] },
        meta => $"{Named(meta)} {meta.Number:000}.csv",
        _ => Utf8WithMark,
        "\r\n",
        (meta, log) =>
        {
            var (into, outOf) = Counters(log);
            return Rows(
                log,
                [$"Local time\tState\tPack [V]\t{Cells(log, cell => $"Cell {cell} [V]", "\t")}\tCurrent [A]\tIn [mAh]\tOut [mAh]\tTemp [°C]"],
                i => $"{meta.Started.AddSeconds(log.Seconds[i]):yyyy-MM-dd HH:mm:ss}\t{State(log.Amperes[i])}\t{Number(log.PackVolts[i], 3)}\t{Volts(log, i, "\t")}\t{Number(log.Amperes[i], 2)}\t{Number(into[i] * 1000, 0)}\t{Number(outOf[i] * 1000, 0)}\t{Number(log.Celsius[i], 1)}");
        });

    /// <summary>Jetty: no header at all; semicolon, point, seconds, amperes, pack and cells in volts, milliampere hours, temperature; pack and start in the file name.</summary>
    public static Station Jetty { get; } = new(
        "jetty",
        new Instrument { IntervalSeconds = 5, AmpereGain = 1.001, VoltOffsets = [0.0003, -0.0005, 0.0002, 0.0004] },
        meta => $"{Named(meta)}-{meta.Started:yyyyMMdd-HHmmss}.csv",
        _ => Utf8,
        "\n",
        (meta, log) => Rows(
            log,
            [],
            i => $"{Number(log.Seconds[i], 0)};{Number(log.Amperes[i], 2)};{Number(log.PackVolts[i], 3)};{Volts(log, i, ";")};{Number(log.ChargeAh[i] * 1000, 0)};{Number(log.Celsius[i], 1)}"));

    /// <summary>Room 12: French words, semicolon, decimal comma, date and time in two fields, millivolts and milliamperes; the pack in a line above.</summary>
    public static Station Room12 { get; } = new(
        "room-12",
        new Instrument { IntervalSeconds = 10, AmpereGain = 0.997, VoltOffsets = [0.0004, -0.0003, -0.0002, 0.0005, -0.0004, 0.0002] },
        meta => $"essai {meta.Number:00}.csv",
        _ => Utf8,
        "\n",
        (meta, log) => Rows(
            log,
            [
                "# Salle 12, données inventées",
                $"# Batterie : {meta.Pack}",
                $"Date;Heure;Courant (mA);{Cells(log, cell => $"Élément {cell} (mV)", ";")};Tension (V);Charge (mAh);Température (°C)",
            ],
            i => Comma($"{meta.Started.AddSeconds(log.Seconds[i]):yyyy-MM-dd};{meta.Started.AddSeconds(log.Seconds[i]):HH:mm:ss};{Number(log.Amperes[i] * 1000, 0)};{Millivolts(log, i, ";")};{Number(log.PackVolts[i], 3)};{Number(log.ChargeAh[i] * 1000, 0)};{Number(log.Celsius[i], 1)}")));

    /// <summary>On board: what a boat writes under way, every two seconds in UTC; no counter; pack in a comment.</summary>
    public static Station OnBoard { get; } = new(
        "on-board",
        new Instrument { IntervalSeconds = 2, AmpereNoise = 0.02, AmpereGain = 0.996, VoltNoise = 0.0008, VoltOffsets = [0.0006, -0.0007, 0.0004, 0.0008, -0.0005, 0.0003] },
        meta => $"run-{meta.Number:000}.csv",
        _ => Utf8,
        "\n",
        (meta, log) => Rows(
            log,
            [
                "# invented data; current into the pack is positive",
                $"# pack = {meta.Pack}",
                $"utc,current_a,voltage_v,{Cells(log, cell => $"c{cell}_v", ",")},temp_c",
            ],
            i => $"{meta.Started.UtcDateTime.AddSeconds(log.Seconds[i]):yyyy-MM-dd'T'HH:mm:ss'Z'},{Number(log.Amperes[i], 2)},{Number(log.PackVolts[i], 2)},{Volts(log, i, ",")},{Number(log.Celsius[i], 1)}"));

    private static string Named(LogMeta meta) => meta.Pack.Length > 0 ? meta.Pack : "unnamed";

    private static IEnumerable<string> Rows(SimulatedLog log, IEnumerable<string> top, Func<int, string> row) =>
        top.Concat(Enumerable.Range(0, log.Count).Select(row));

    private static string Cells(SimulatedLog log, Func<int, string> text, string mark) =>
        string.Join(mark, Enumerable.Range(1, log.CellVolts.Length).Select(text));

    private static string Volts(SimulatedLog log, int i, string mark) => string.Join(mark, log.CellVolts.Select(cell => Number(cell[i], 3)));

    private static string Millivolts(SimulatedLog log, int i, string mark) => string.Join(mark, log.CellVolts.Select(cell => Number(cell[i] * 1000, 0)));

    private static string Number(double value, int decimals)
    {
        var text = value.ToString("F" + decimals.ToString(Invariant), Invariant);
        // No "-0.00": a sign says that something flowed.
        return text.StartsWith('-') && text.AsSpan(1).IndexOfAnyExcept('0', '.') < 0 ? text[1..] : text;
    }

    private static string Comma(string row) => row.Replace('.', ',');

    private static string Clock(double seconds) => TimeSpan.FromSeconds(seconds).ToString(@"hh\:mm\:ss", Invariant);

    private static string State(double amperes) => amperes switch { > 0 => "charge", < 0 => "discharge", _ => "idle" };

    private static (double[] Into, double[] OutOf) Counters(SimulatedLog log)
    {
        var (into, outOf) = (new double[log.Count], new double[log.Count]);
        for (var i = 1; i < log.Count; i++)
        {
            var moved = log.ChargeAh[i] - log.ChargeAh[i - 1];
            into[i] = into[i - 1] + Math.Max(moved, 0);
            outOf[i] = outOf[i - 1] + Math.Max(-moved, 0);
        }

        return (into, outOf);
    }
}
