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

        string d = Delimiter.ToString();
        bool units = UnitRow && Header >= 0 && Layout == 0 && Delimiter != ' ';
        if (Header >= 0)
        {
            string[] names = Names(session, units);
            lines.Add(string.Join(d, names));
            if (units)
            {
                lines.Add(string.Join(d, Units(session)));
            }
        }

        for (int r = 0; r < session.Rows; r++)
        {
            lineOfRow.Add(lines.Count + 1);
            if (Layout == 1)
            {
                for (int c = 0; c < session.Cells; c++)
                {
                    lines.Add(string.Join(d, Time(session.TimeSeconds[r]), Number(session.MilliAmperes[r]), (c + 1).ToString(CultureInfo.InvariantCulture), Number(session.CellMillivolts[c][r])));
                }

                continue;
            }

            List<string> fields = [Time(session.TimeSeconds[r]), Number(session.MilliAmperes[r])];
            if (Layout == 2)
            {
                string list = string.Join("/", session.CellMillivolts.Select(cell => Number(cell[r])));
                fields.Add($"[{list}]");
            }
            else
            {
                fields.Add(Number(session.CellMillivolts.Sum(cell => cell[r])));
                fields.AddRange(session.CellMillivolts.Select(cell => Number(cell[r])));
            }

            fields.Add(Number(session.ChargeMilliAmpereHours[r]));
            fields.Add(Decimal(session.TenthsCelsius[r], 1));
            lines.Add(string.Join(d, fields) + (TrailingDelimiter ? d : ""));
        }

        string text = string.Join(LineEnd, lines) + (FinalLineEnd ? LineEnd : "");
        return Encoding switch
        {
            1 => [.. System.Text.Encoding.UTF8.Preamble, .. System.Text.Encoding.UTF8.GetBytes(text)],
            2 => [.. System.Text.Encoding.Unicode.Preamble, .. System.Text.Encoding.Unicode.GetBytes(text)],
            3 => [.. System.Text.Encoding.BigEndianUnicode.Preamble, .. System.Text.Encoding.BigEndianUnicode.GetBytes(text)],
            4 when !text.Contains('€', StringComparison.Ordinal) => System.Text.Encoding.Latin1.GetBytes(text),
            _ => System.Text.Encoding.UTF8.GetBytes(text),
        };
    }

    private string[] Names(GeneratedSession session, bool unitRow)
    {
        string[] words = Words[Header];
        bool blanks = Delimiter == ' ';
        string U(string unit) => unitRow ? "" : blanks ? "_" + unit.Replace("°", "", StringComparison.Ordinal) : $" [{unit}]";
        string volt = Milli ? "mV" : "V";
        string ampere = Milli ? "mA" : "A";
        string time = TimeForm switch { 0 => words[0] + U("s"), 1 => words[0] + U("ms"), 2 or 3 or 4 => words[0] + U("hh:mm:ss"), 5 or 6 => "timestamp", _ => words[0] };
        if (blanks && TimeForm == 2)
        {
            time = words[0];
        }

        List<string> names = [time, words[1] + U(ampere)];
        if (Layout == 1)
        {
            names.Add(words[3]);
            names.Add((Header == 1 ? "Spannung" : "voltage") + U(volt));
            return [.. names];
        }

        if (Layout == 2)
        {
            names.Add((Header == 1 ? "Zellspannungen" : "cell voltages").Replace(blanks ? " " : "\0", "_", StringComparison.Ordinal) + U(volt));
        }
        else
        {
            names.Add(words[2].Replace(blanks ? " " : "\0", "_", StringComparison.Ordinal) + U(volt));
            names.AddRange(Enumerable.Range(1, session.Cells).Select(c => $"{words[3]}{(blanks ? "" : " ")}{c}{U(volt)}"));
        }

        names.Add(words[4] + U(ampere + "h"));
        names.Add(words[5] + U("°C"));
        return [.. names];
    }

    private string[] Units(GeneratedSession session)
    {
        string volt = Milli ? "mV" : "V";
        string ampere = Milli ? "mA" : "A";
        string time = TimeForm switch { 0 => "s", 1 => "ms", 2 or 3 or 4 => "hh:mm:ss", _ => "" };
        return [time, ampere, volt, .. Enumerable.Repeat(volt, session.Cells), ampere + "h", "°C"];
    }

    private string Number(int milli) => Milli ? milli.ToString(CultureInfo.InvariantCulture) : Decimal(milli, 3);

    private string Decimal(int scaled, int decimals) =>
        (scaled / (decimal)Math.Pow(10, decimals)).ToString("F" + decimals, CultureInfo.InvariantCulture).Replace('.', Mark);

    private string Time(int seconds)
    {
        string hms = string.Create(CultureInfo.InvariantCulture, $"{seconds / 3600:00}:{seconds / 60 % 60:00}:{seconds % 60:00}");
        DateTime at = new DateTime(2026, 3, 14, 9, 30, 0, DateTimeKind.Utc).AddSeconds(seconds);
        return TimeForm switch
        {
            0 => seconds.ToString(CultureInfo.InvariantCulture),
            1 => (seconds * 1000L).ToString(CultureInfo.InvariantCulture),
            2 => hms,
            3 => hms + Mark + "5",
            4 => hms + ".250",
            5 => at.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture),
            _ => at.ToString("yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture),
        };
    }
}
