using System.Globalization;
using PackCare.Core.Packs;
using PackCare.Core.Units;

namespace PackCare.Store.Tables;

/// <summary>A row of the pack table with the pack's latest retirement.</summary>
internal sealed record PackRow(
    long Id,
    string Label,
    long Cells,
    long Parallel,
    string Chemistry,
    double? RatedCapacityAh,
    double? RatedDischargeC,
    string? Bought,
    string? Price,
    string? Currency,
    string? Vehicle,
    string? Connector,
    string AddedUtc,
    long AddedOffsetMin,
    string? RetiredUtc,
    long? RetiredOffsetMin,
    string? RetiredReason)
{
    private const string DayFormat = "yyyy-MM-dd";

    public static string? Day(DateOnly? day) => day?.ToString(DayFormat, CultureInfo.InvariantCulture);

    public static string? Amount(decimal? amount) => amount?.ToString(CultureInfo.InvariantCulture);

    /// <exception cref="InvalidDataException">A column holds what no version wrote.</exception>
    public Pack ToPack() => new(
        Id,
        new PackDetails(
            Label,
            (int)Cells,
            (int)Parallel,
            Words.Chemistry.Parse(Chemistry),
            RatedCapacityAh is { } capacity ? new AmpereHours(capacity) : null,
            RatedDischargeC,
            Bought is null ? null : ParseDay(Bought),
            Price is null ? null : ParseAmount(Price),
            Currency,
            Vehicle,
            Connector),
        Instant.Parse(AddedUtc, AddedOffsetMin),
        RetiredUtc is null ? null : new Retirement(Instant.Parse(RetiredUtc, RetiredOffsetMin ?? 0), RetiredReason ?? ""));

    private static DateOnly ParseDay(string text) =>
        DateOnly.TryParseExact(text, DayFormat, CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly day)
            ? day
            : throw new InvalidDataException($"'{text}' is no day");

    private static decimal ParseAmount(string text) =>
        decimal.TryParse(text, NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out decimal amount)
            ? amount
            : throw new InvalidDataException($"'{text}' is no amount");
}
