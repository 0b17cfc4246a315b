using PackCare.Core.Packs;
using PackCare.Core.Sessions;

namespace PackCare.Store.Tables;

/// <summary>The words by which enumerations are stored. A word, once released, keeps its meaning.</summary>
internal sealed class Words<T>
    where T : struct, Enum
{
    private readonly Dictionary<T, string> _words;
    private readonly Dictionary<string, T> _values;

    public Words(params (T Value, string Word)[] pairs)
    {
        _words = pairs.ToDictionary(pair => pair.Value, pair => pair.Word);
        _values = pairs.ToDictionary(pair => pair.Word, pair => pair.Value);
    }

    public string Of(T value) => _words[value];

    /// <exception cref="InvalidDataException">No such word.</exception>
    public T Parse(string word) =>
        _values.TryGetValue(word, out T value) ? value : throw new InvalidDataException($"'{word}' is no {typeof(T).Name}");
}

/// <summary>The words of each enumeration.</summary>
internal static class Words
{
    public static Words<Chemistry> Chemistry { get; } = new(
        (Core.Packs.Chemistry.LiPo, "lipo"),
        (Core.Packs.Chemistry.LiHv, "lihv"),
        (Core.Packs.Chemistry.LiIon, "liion"),
        (Core.Packs.Chemistry.LiFePo4, "lifepo4"));

    public static Words<EntryKind> EntryKind { get; } = new(
        (Core.Packs.EntryKind.Run, "run"),
        (Core.Packs.EntryKind.Storage, "storage"),
        (Core.Packs.EntryKind.Inspection, "inspection"),
        (Core.Packs.EntryKind.Note, "note"));

    public static Words<SessionKind> SessionKind { get; } = new(
        (Core.Sessions.SessionKind.Charge, "charge"),
        (Core.Sessions.SessionKind.Discharge, "discharge"),
        (Core.Sessions.SessionKind.Storage, "storage"),
        (Core.Sessions.SessionKind.Rest, "rest"),
        (Core.Sessions.SessionKind.Mixed, "mixed"));

    public static Words<TimeQuality> TimeQuality { get; } = new(
        (Core.Sessions.TimeQuality.Exact, "exact"),
        (Core.Sessions.TimeQuality.Inferred, "inferred"),
        (Core.Sessions.TimeQuality.FileDate, "file-date"));

    public static Words<ChangeKind> ChangeKind { get; } = new(
        (Store.ChangeKind.Pack, "pack"),
        (Store.ChangeKind.Import, "import"),
        (Store.ChangeKind.Assignment, "assignment"),
        (Store.ChangeKind.SpotCheck, "spot-check"),
        (Store.ChangeKind.Entry, "entry"),
        (Store.ChangeKind.Retirement, "retirement"));
}
