namespace PackCare.Import.Meanings;

/// <summary>Words that number a cell in a header: "first", "zweite", "trois", of general words in a few languages.</summary>
internal static class Ordinals
{
    // Lower case without marks, as headers are split; the same word means the same number in all of them.
    private static readonly string[][] Words =
    [
        ["first", "one", "erste", "erster", "erstes", "eins", "premiere", "premier", "un", "une", "primera", "primero", "primer", "uno", "una", "prima", "primo", "eerste", "een", "forsta", "primeira"],
        ["second", "two", "zweite", "zweiter", "zweites", "zwei", "zwo", "deuxieme", "seconde", "deux", "segunda", "segundo", "dos", "seconda", "secondo", "due", "tweede", "twee", "andra", "dois", "duas"],
        ["third", "three", "dritte", "dritter", "drittes", "drei", "troisieme", "trois", "tercera", "tercero", "tercer", "tres", "terza", "terzo", "tre", "derde", "drie", "tredje", "terceira"],
        ["fourth", "four", "vierte", "vierter", "viertes", "vier", "quatrieme", "quatre", "cuarta", "cuarto", "cuatro", "quarta", "quarto", "quattro", "vierde", "fjarde", "quatro"],
        ["fifth", "five", "funfte", "funfter", "funftes", "funf", "fuenfte", "fuenf", "cinquieme", "cinq", "quinta", "quinto", "cinco", "cinque", "vijfde", "vijf", "femte"],
        ["sixth", "six", "sechste", "sechster", "sechstes", "sechs", "sixieme", "sexta", "sexto", "seis", "sesta", "sesto", "sei", "zesde", "zes", "sjatte"],
        ["seventh", "seven", "siebte", "siebter", "siebtes", "sieben", "septieme", "sept", "septima", "septimo", "siete", "settima", "sette", "zevende", "zeven", "sete"],
        ["eighth", "eight", "achte", "achter", "achtes", "acht", "huitieme", "huit", "octava", "octavo", "ocho", "ottava", "otto", "achtste", "oito"],
    ];

    private static readonly Dictionary<string, int> Numbers = Words.SelectMany((words, i) => words.Select(word => (word, Number: i + 1))).ToDictionary(pair => pair.word, pair => pair.Number, StringComparer.Ordinal);

    /// <summary>Takes the one word that is a number out of the words of a header; null, with nothing taken, where there is none or more than one.</summary>
    internal static int? TakeFrom(List<string> words)
    {
        List<string> found = [.. words.Where(Numbers.ContainsKey)];
        if (found.Count != 1)
        {
            return null;
        }

        words.Remove(found[0]);
        return Numbers[found[0]];
    }
}
