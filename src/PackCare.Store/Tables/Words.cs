using PackCare.Core.Packs;
using PackCare.Core.Sessions;

namespace PackCare.Store.Tables;

/// <summary>The words by which enumerations are stored. A word, once released, keeps its meaning.</summary>
internal sealed class Words<T>
    where T : struct, Enum
{
    private readonly T[] _values;
    private readonly string[] _words;

    public Words(params ReadOnlySpan<(T Value, string Word)> pairs)
    {
        _values = new T[pairs.Length];
        _words = new string[pairs.Length];
        for (int i = 0; i < pairs.Length; i++)
        {
            (_values[i], _words[i]) = pairs[i];
        }
    }

    public string Of(T value) => _words[Array.IndexOf(_values, value)];

    /// <exception cref="InvalidDataException">No such word.</exception>
    public T Parse(string word) =>
        Array.IndexOf(_words, word) is >= 0 and var found ? _values[found] : throw new InvalidDataException($"'{word}' is no {typeof(T).Name}");
}

/// <summary>The words of each enumeration, made when first asked for: every start of the program needs one of them.</summary>
internal static class Words
{
    public static Words<Chemistry> Chemistry => field ??= new(
        (Core.Packs.Chemistry.LiPo, "lipo"),
        (Core.Packs.Chemistry.LiHv, "lihv"),
        (Core.Packs.Chemistry.LiIon, "liion"),
        (Core.Packs.Chemistry.LiFePo4, "lifepo4"));

    public static Words<EntryKind> EntryKind => field ??= new(
        (Core.Packs.EntryKind.Run, "run"),
        (Core.Packs.EntryKind.Storage, "storage"),
        (Core.Packs.EntryKind.Inspection, "inspection"),
        (Core.Packs.EntryKind.Note, "note"));

    public static Words<SessionKind> SessionKind => field ??= new(
        (Core.Sessions.SessionKind.Charge, "charge"),
        (Core.Sessions.SessionKind.Discharge, "discharge"),
        (Core.Sessions.SessionKind.Storage, "storage"),
        (Core.Sessions.SessionKind.Rest, "rest"),
        (Core.Sessions.SessionKind.Mixed, "mixed"));

    public static Words<TimeQuality> TimeQuality => field ??= new(
        (Core.Sessions.TimeQuality.Exact, "exact"),
        (Core.Sessions.TimeQuality.Inferred, "inferred"),
        (Core.Sessions.TimeQuality.FileDate, "file-date"));

    public static Words<ChangeKind> ChangeKind => field ??= new(
        (Store.ChangeKind.Pack, "pack"),
        (Store.ChangeKind.Import, "import"),
        (Store.ChangeKind.Assignment, "assignment"),
        (Store.ChangeKind.SpotCheck, "spot-check"),
        (Store.ChangeKind.Entry, "entry"),
        (Store.ChangeKind.Retirement, "retirement"));
}
