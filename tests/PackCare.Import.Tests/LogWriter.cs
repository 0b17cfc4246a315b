using System.Globalization;

namespace PackCare.Import.Tests;

/// <summary>Writes a session in one of the many forms that logs have.</summary>
internal sealed record LogWriter(
    char Delimiter, char Mark, bool Milli, int TimeForm, int Header, int Layout, int Encoding, string LineEnd, int Preamble, bool UnitRow, bool TrailingDelimiter, bool FinalLineEnd)
{
    private static readonly string[][] Words =
    [
        ["time", "current", "pack voltage", "cell", "charge", "temperature"],
        ["Zeit", "Strom", "Gesamtspannung", "Zelle", "Ladung", "Temperatur"],
        ["Temps", "Courant", "Tension batterie", "Élément", "Charge", "Température"],
        ["Tiempo", "Corriente", "Tensión total", "Celda", "Carga", "Temperatura"],
        ["Tijd", "Stroom", "Totale spanning", "Cel", "Lading", "Temperatuur"],
    ];

    private static readonly string[] LineEnds = ["\n", "\r\n", "\r"];
    private static readonly string[] Groups = ["", "'", "\u00A0", "\u202F", "\u2019", "other mark"];
    private static readonly string[] Gaps = ["", " ", "\u00A0"];

    /// <summary>What separates thousands, "" for nothing; "other mark" for the mark that is not the decimal one.</summary>
    internal string Group { get; init; } = "";

    /// <summary>What stands between a value and the unit behind it; null where there is no unit behind values.</summary>
    internal string? UnitBehind { get; init; }

    /// <summary>The quote around every field; NUL for none.</summary>
    internal char Quote { get; init; }

    /// <summary>Headers without units.</summary>
    internal bool BareHeader { get; init; }

    /// <summary>The order of the columns: time, current, pack voltage, cells, charge, temperature.</summary>
    internal int[] Order { get; init; } = [0, 1, 2, 3, 4, 5];

    /// <summary>Whether units stand in a row of their own below the header.</summary>
    internal bool HasUnitRow => UnitRow && Header >= 0 && Layout == 0 && Delimiter != ' ';

    /// <summary>Picks a form.</summary>
    internal static LogWriter Make(Random random)
    {
        char delimiter = ";\t|, "[random.Next(5)];
        char mark = delimiter == ',' ? '.' : ".,"[random.Next(2)];
        int layout = random.Next(6) switch { 0 => 1, 1 => 2, _ => 0 };
        int header = delimiter == ' ' && layout != 0 ? 0 : random.Next(Words.Length + 1) - 1;
        if (delimiter == ' ')
        {
            header = Math.Min(header, 0);
        }

        if (layout != 0)
        {
            header = Math.Max(header, 0);
        }

        return new LogWriter(
            delimiter, mark, random.Next(2) == 0, random.Next(delimiter == ' ' ? 3 : 7), header, layout, random.Next(5), LineEnds[random.Next(3)],
            random.Next(3), random.Next(3) == 0, random.Next(4) == 0 && delimiter != ' ', random.Next(5) != 0);
    }

    /// <summary>Picks the rarer ways of writing on top: month names, units behind values, quotes, groups of digits, bare headers or none, columns in another order.</summary>
    internal LogWriter Vary(Random random)
    {
        LogWriter writer = this;
        bool blanks = Delimiter == ' ';
        if (!blanks && random.Next(3) == 0)
        {
            writer = writer with { Quote = "\"'"[random.Next(2)] };
            writer = Delimiter == ',' && random.Next(2) == 0 ? writer with { Mark = ',' } : writer;
        }

        if (!blanks && random.Next(4) == 0)
        {
            writer = writer with { TimeForm = 7 + random.Next(writer.Delimiter == ',' && writer.Quote == '\0' ? 3 : 4) };
        }

        if (Milli && random.Next(3) == 0)
        {
            string group = Groups[random.Next(Groups.Length)];
            bool stands = (group != "'" || writer.Quote != '\'') && (group != "other mark" || Delimiter != ',' || writer.Quote != '\0') && (!blanks || group is "" or "'" or "other mark");
            writer = stands ? writer with { Group = group } : writer;
        }

        if (!blanks && random.Next(4) == 0)
        {
            writer = writer with { UnitBehind = Gaps[random.Next(Gaps.Length)] };
        }

        if (Layout == 1 && random.Next(3) == 0)
        {
            writer = writer with { Header = -1 };
        }

        if (random.Next(3) == 0)
        {
            int[] order = [0, 1, 2, 3, 4, 5];
            random.Shuffle(order);
            writer = writer with { Order = order };
        }

        return writer with { BareHeader = random.Next(3) == 0 };
    }

    /// <summary>Writes it.</summary>
    internal byte[] Write(GeneratedSession session, out List<int> lineOfRow)
    {
        var lines = new List<string>();
        lineOfRow = [];
        if (Preamble > 0 && Delimiter != ' ')
        {
            lines.Add("# a log of station two");
            lines.Add("Operator: nobody, really");
        }

        if (Header >= 0)
        {
            lines.Add(Line(Names(session, HasUnitRow)));
            if (HasUnitRow)
            {
                lines.Add(Line(Units(session)));
            }
        }

        for (int r = 0; r < session.Rows; r++)
        {
            lineOfRow.Add(lines.Count + 1);
            if (Layout == 1)
            {
                for (int c = 0; c < session.Cells; c++)
                {
                    lines.Add(Line([[Time(session.TimeSeconds[r])], [Number(session.MilliAmperes[r], "A")], [(c + 1).ToString(CultureInfo.InvariantCulture)], [Number(session.CellMillivolts[c][r], "V")], [], []]));
                }

                continue;
            }

            string list = string.Join("/", session.CellMillivolts.Select(cell => Number(cell[r], null)));
            lines.Add(Line(
            [
                [Time(session.TimeSeconds[r])],
                [Number(session.MilliAmperes[r], "A")],
                Layout == 2 ? [] : [Number(session.CellMillivolts.Sum(cell => cell[r]), "V")],
                Layout == 2 ? [$"[{list}]"] : [.. session.CellMillivolts.Select(cell => Number(cell[r], "V"))],
                [Charge(session.ChargeMilliAmpereHours[r])],
                [Behind(Decimal(session.TenthsCelsius[r], 1), "°C")],
            ]) + (TrailingDelimiter ? Delimiter : ""));
        }

        string text = string.Join(LineEnd, lines) + (FinalLineEnd ? LineEnd : "");
        return Encoding switch
        {
            1 => [.. System.Text.Encoding.UTF8.Preamble, .. System.Text.Encoding.UTF8.GetBytes(text)],
            2 => [.. System.Text.Encoding.Unicode.Preamble, .. System.Text.Encoding.Unicode.GetBytes(text)],
            3 => [.. System.Text.Encoding.BigEndianUnicode.Preamble, .. System.Text.Encoding.BigEndianUnicode.GetBytes(text)],
            4 when text.All(c => c <= '\u00FF') => System.Text.Encoding.Latin1.GetBytes(text),
            _ => System.Text.Encoding.UTF8.GetBytes(text),
        };
    }

    private string Line(string[][] columns) => string.Join(Delimiter, Order.SelectMany(column => columns[column]).Select(field => Quote == '\0' ? field : $"{Quote}{field}{Quote}"));

    private string[][] Names(GeneratedSession session, bool unitRow)
    {
        string[] words = Words[Header];
        bool blanks = Delimiter == ' ';
        string U(string unit) => unitRow || BareHeader ? "" : blanks ? "_" + unit.Replace("°", "", StringComparison.Ordinal) : $" [{unit}]";
        string Joined(string name) => blanks ? name.Replace(' ', '_') : name;
        string volt = Milli ? "mV" : "V";
        string ampere = Milli ? "mA" : "A";
        string time = TimeForm switch { 0 => words[0] + U("s"), 1 => words[0] + U("ms"), 2 or 3 or 4 when !blanks => words[0] + U("hh:mm:ss"), >= 5 => "timestamp", _ => words[0] };
        if (Layout == 1)
        {
            return [[time], [words[1] + U(ampere)], [words[3]], [(Header == 1 ? "Spannung" : "voltage") + U(volt)], [], []];
        }

        return
        [
            [time],
            [words[1] + U(ampere)],
            Layout == 2 ? [] : [Joined(words[2]) + U(volt)],
            Layout == 2 ? [Joined(Header == 1 ? "Zellspannungen" : "cell voltages") + U(volt)] : [.. Enumerable.Range(1, session.Cells).Select(c => $"{words[3]}{(blanks ? "" : " ")}{c}{U(volt)}")],
            [words[4] + U(ampere + "h")],
            [words[5] + U("°C")],
        ];
    }

    private string[][] Units(GeneratedSession session)
    {
        string volt = Milli ? "mV" : "V";
        string ampere = Milli ? "mA" : "A";
        string time = TimeForm switch { 0 => "s", 1 => "ms", 2 or 3 or 4 => "hh:mm:ss", _ => "" };
        return [[time], [ampere], [volt], [.. Enumerable.Repeat(volt, session.Cells)], [ampere + "h"], ["°C"]];
    }

    // In milli-units with the other mark between groups, a decimal shows which mark is which.
    private string Number(int milli, string? unit)
    {
        string number = !Milli ? Decimal(milli, 3) : Grouped(milli) + (Group == "other mark" ? Mark + "0" : "");
        return unit is null ? number : Behind(number, Milli ? "m" + unit : unit);
    }

    // The counter has no tenths of a mAh, and does not pretend to.
    private string Charge(int milli) => Milli && Group == "other mark" ? Behind(Grouped(milli), "mAh") : Number(milli, "Ah");

    private string Grouped(long whole)
    {
        string group = Group == "other mark" ? Mark == '.' ? "," : "." : Group;
        return whole.ToString("N0", CultureInfo.InvariantCulture).Replace(",", group, StringComparison.Ordinal);
    }

    private string Behind(string value, string unit) => UnitBehind is null ? value : value + UnitBehind + unit;

    private string Decimal(int scaled, int decimals) =>
        (scaled / (decimal)Math.Pow(10, decimals)).ToString("F" + decimals, CultureInfo.InvariantCulture).Replace('.', Mark);

    private string Time(int seconds)
    {
        string hms = string.Create(CultureInfo.InvariantCulture, $"{seconds / 3600:00}:{seconds / 60 % 60:00}:{seconds % 60:00}");
        DateTime at = new DateTime(2026, 3, 14, 9, 30, 0, DateTimeKind.Utc).AddSeconds(seconds);
        string clock = at.ToString("HH:mm:ss", CultureInfo.InvariantCulture);
        return TimeForm switch
        {
            0 => Behind(seconds.ToString(CultureInfo.InvariantCulture), "s"),
            1 => Behind(Grouped(seconds * 1000L) + (Milli && Group == "other mark" ? Mark + "0" : ""), "ms"),
            2 => hms,
            3 => hms + Mark + "5",
            4 => hms + ".250",
            5 => at.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture),
            6 => at.ToString("yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture),
            7 => "14-Mar-2026 " + clock,
            8 => "14. März 2026 " + clock,
            9 => "14 mars 2026 " + clock,
            _ => "Mar 14, 2026 " + clock,
        };
    }
}
