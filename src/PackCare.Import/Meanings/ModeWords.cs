namespace PackCare.Import.Meanings;

/// <summary>What a word in a mode column says about the direction of the current.</summary>
internal static class ModeWords
{
    private static readonly string[] Discharging = ["discharg", "dischg", "dsg", "dchg", "entlad", "décharg", "decharg", "descarg", "scaric", "ontlad", "rozlad", "rozład", "vybij", "vybíj", "urladd", "aflad", "utlad", "purka", "разряд", "deşarj", "desarj", "descarreg", "kisüt", "kisut", "purku", "purett", "tömning", "放电", "放電", "drain"];

    private static readonly string[] Charging = ["charg", "chg", "laden", "ladung", "lade", "carga", "caric", "carreg", "sarj", "tolt", "tölt", "ladd", "lading", "oplad", "ladow", "ładow", "nabíj", "nabij", "laddn", "lataus", "töltés", "şarj", "заряд", "充电", "充電", "cc-cv", "cccv", "balanc", "bilanc", "équilibr", "equilibr", "ausgleich", "constant current", "constant voltage", "absorb", "trickle", "top-up"];

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
            : Charging.Any(stem => text.Contains(stem, StringComparison.Ordinal)) ? 1
            : Resting.Any(stem => text.Contains(stem, StringComparison.Ordinal)) ? 0
            : null;
    }
}
