using System.Text.RegularExpressions;

namespace PackCare.Import.Meanings;

/// <summary>Refuses columns whose header gives a multiple of a unit, "10 mA" or "A/10": read without it, every value would be off by that factor.</summary>
internal static partial class ScaledUnits
{
    /// <summary>Refuses the log at the first of them.</summary>
    internal static void Check(LogColumns columns)
    {
        foreach (ColumnRole role in columns.Roles.Where(role => role is { Profile.Count: > 0, Hint: { IsGuided: false, IsDerived: false, Quantity: not (Quantity.Unknown or Quantity.Other) } }))
        {
            if (!IsSpareTime(columns, role) && Found(role.Column.Header, role.Column.UnitField, role.Hint) is { } found)
            {
                columns.Refuse(
                    "scaled-unit", 0, role, $"values in a multiple of a unit, \"{found}\", by the header",
                    "multiply the values out and state the plain unit, or take the factor out of the header if it is none");
                return;
            }
        }
    }

    /// <summary>Whether a field of a row of units is a multiple of one.</summary>
    internal static bool IsOne(string field) => IsMultiple(field, quantity: null);

    // "Interval (10 s)" beside the time itself.
    private static bool IsSpareTime(LogColumns columns, ColumnRole role) => role.Hint.Quantity == Quantity.Elapsed
        && columns.Roles.Any(other => other != role && other.Column.Present > 0 && other.Hint is { Quantity: Quantity.Elapsed or Quantity.Timestamp or Quantity.Clock, IsDerived: false });

    private static string? Found(string? header, string? unitField, HeaderHint hint)
    {
        Quantity quantity = hint.Quantity;
        string text = header ?? "";
        List<string> places = [.. Brackets().Matches(text).Select(match => match.Groups[1].Value)];
        if (unitField is not null)
        {
            places.Add(unitField.Trim().Trim('[', ']', '(', ')'));
        }

        if (text.LastIndexOf(" in ", StringComparison.OrdinalIgnoreCase) is > 0 and var at)
        {
            places.Add(text[(at + 4)..]);
        }

        return places.Find(place => IsScaled(place, quantity)) ?? ((quantity != Quantity.Voltage || hint.Number is null) && Times().Match(text) is { Success: true } times ? times.Value.Trim() : null);
    }

    private static bool IsScaled(string place, Quantity quantity) =>
        IsMultiple(place, quantity) || (Prefixed().Match(place) is { Success: true } prefixed && Is(prefixed.Groups["unit"].Value, quantity));

    private static bool IsMultiple(string place, Quantity? quantity) =>
        (Multiple().Match(place) is { Success: true } multiple && Is(multiple.Groups["unit"].Value, quantity))
        || (Part().Match(place) is { Success: true } part && Is(part.Groups["unit"].Value, quantity))
        || (Times().IsMatch(place) && Is(Times().Replace(place, ""), quantity));

    // Of that quantity, or of any.
    private static bool Is(string unit, Quantity? quantity) => UnitMarks.Parse(unit) is not Unit.None and var known && (quantity is null || UnitMarks.QuantityOf(known) == quantity);

    [GeneratedRegex(@"[\[({<]([^\])}>]*)[\])}>]", RegexOptions.CultureInvariant)]
    private static partial Regex Brackets();

    // 10 mA, 0.1 s, 1/10 V; 100 A is what a shunt is made for.
    [GeneratedRegex(@"^\s*(?!100+\s*[AV]\s*$)(10+|0[.,]0*1|1\s*/\s*10+)\s*(?<unit>\D+)$", RegexOptions.CultureInvariant)]
    private static partial Regex Multiple();

    // A/10, mV / 100.
    [GeneratedRegex(@"^\s*(?<unit>[^\d/]+)\s*/\s*10+\s*$", RegexOptions.CultureInvariant)]
    private static partial Regex Part();

    // Tenths, hundredths and thousands by their prefix, and halves.
    [GeneratedRegex(@"^\s*(([dc]|half\s*)(?<unit>V|A|s|Ah|Wh|min|h)|k(?<unit>s))\s*$", RegexOptions.CultureInvariant)]
    private static partial Regex Prefixed();

    // x10, × 100, *1000, ·0.1.
    [GeneratedRegex(@"((?<![A-Za-z0-9])x|[×*·])\s*(10+|0[.,]0*1)(?![0-9A-Za-z])|(?<![0-9])(10+|0[.,]0*1)\s*[×*·x](?![A-Za-z0-9])", RegexOptions.CultureInvariant)]
    private static partial Regex Times();
}
