namespace PackCare.Import.Meanings;

/// <summary>What a word in a mode column says about the direction of the current.</summary>
internal static class ModeWords
{
    private static readonly string[] Discharging = ["discharg", "dischg", "dsg", "dchg", "entlad", "décharg", "decharg", "descarg", "scaric", "ontlad", "rozlad", "rozład", "vybij", "vybíj", "urladd", "aflad", "utlad", "purka", "разряд", "deşarj", "desarj", "descarreg", "kisüt", "kisut", "purku", "purett", "tömning", "放电", "放電", "drain"];

    private static readonly string[] Charging = ["charg", "chg", "laden", "ladung", "lade", "carga", "caric", "carreg", "sarj", "tolt", "tölt", "ladd", "lading", "oplad", "ladow", "ładow", "nabíj", "nabij", "laddn", "lataus", "töltés", "şarj", "заряд", "充电", "充電", "cc-cv", "cccv", "constant current", "constant voltage", "absorb", "trickle", "top-up"];

    // Cells are balanced at the end of a charge, mostly.
    private static readonly string[] Balancing = ["balanc", "bilanc", "équilibr", "equilibr", "ausgleich"];

    private static readonly string[] Resting = ["rest", "idle", "postoj", "postój", "spoczyn", "przerwa", "lepo", "tauko", "vila", "vilo", "hvil", "paus", "pihen", "szünet", "szunet", "bekle", "durdu", "dinlen", "repouso", "pausa", "простой", "ожидан", "pause", "wait", "ruhe", "stop", "off", "standby", "end", "done", "finish", "fertig", "bereit", "ready", "halt", "repos", "reposo", "riposo", "rust", "klid", "покой", "aus", "none", "静置", "break", "open"];

    /// <summary>1 for charging, -1 for discharging, 0 for rest, null where the word is not known.</summary>
    internal static int? DirectionOf(string word)
    {
        string text = word.Trim().ToLowerInvariant();
        if (text is "c" or "chg" or "+" or "cc" or "cv" or "l" or "in" or "into" or "up")
        {
            return 1;
        }

        if (text is "d" or "dis" or "-" or "e" or "dc" or "out" or "down")
        {
            return -1;
        }

        if (text == "0")
        {
            return 0;
        }

        return Discharging.Any(stem => text.Contains(stem, StringComparison.Ordinal)) ? -1
            : Charging.Any(stem => text.Contains(stem, StringComparison.Ordinal)) || IsBalancing(text) ? 1
            : Resting.Any(stem => text.Contains(stem, StringComparison.Ordinal)) ? 0
            : null;
    }

    /// <summary>Whether a word names the balancing of the cells and nothing else.</summary>
    internal static bool IsBalancing(string word)
    {
        string text = word.Trim().ToLowerInvariant();
        return Balancing.Any(stem => text.Contains(stem, StringComparison.Ordinal)) && !Charging.Any(stem => text.Contains(stem, StringComparison.Ordinal));
    }

    /// <summary>A word that is another one of the column but for a letter and would say another direction, by its place among the words, and that other; null where there is none.</summary>
    internal static (int Odd, string Usual)? Damaged(IReadOnlyList<string> words)
    {
        const int FewestLetters = 4;
        for (int later = 1; later < words.Count; later++)
        {
            for (int earlier = 0; earlier < later; earlier++)
            {
                (string one, string other) = (words[earlier].Trim(), words[later].Trim());
                if (Math.Min(one.Length, other.Length) >= FewestLetters && !IsPair(one, other) && DirectionOf(one) != DirectionOf(other) && IsOneLetterOff(one, other))
                {
                    // Modes are written in letters, most of all.
                    bool isLater = !one.Any(char.IsDigit) || other.Any(char.IsDigit);
                    return isLater ? (later, one) : (earlier, other);
                }
            }
        }

        return null;
    }

    // "carica" and "scarica".
    private static bool IsPair(string one, string other) =>
        (one.Length > other.Length ? (other, one) : (one, other)) is var (shorter, longer) && longer.Equals("s" + shorter, StringComparison.OrdinalIgnoreCase) && shorter.StartsWith("caric", StringComparison.OrdinalIgnoreCase);

    private static bool IsOneLetterOff(string one, string other)
    {
        if (Math.Abs(one.Length - other.Length) > 1)
        {
            return false;
        }

        int alike = 0;
        while (alike < one.Length && alike < other.Length && one[alike] == other[alike])
        {
            alike++;
        }

        int behind = 0;
        while (behind < one.Length - alike && behind < other.Length - alike && one[^(behind + 1)] == other[^(behind + 1)])
        {
            behind++;
        }

        return Math.Max(one.Length, other.Length) - alike - behind == 1;
    }
}
