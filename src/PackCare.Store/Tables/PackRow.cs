using System.Globalization;
using Microsoft.Data.Sqlite;
using PackCare.Core.Packs;
using PackCare.Core.Units;

namespace PackCare.Store.Tables;

/// <summary>A row of the pack table with the pack's latest retirement.</summary>
internal static class PackRow
{
    private const string DayFormat = "yyyy-MM-dd";

    public static string? Day(DateOnly? day) => day?.ToString(DayFormat, CultureInfo.InvariantCulture);

    public static string? Amount(decimal? amount) => amount?.ToString(CultureInfo.InvariantCulture);

    /// <exception cref="InvalidDataException">A column holds what no version wrote.</exception>
    public static Pack Read(SqliteDataReader row) => new(
        row.GetInt64(0),
        new PackDetails(
            row.GetString(1),
            row.GetInt32(2),
            row.GetInt32(3),
            Words.Chemistry.Parse(row.GetString(4)),
            row.NullableDouble(5) is { } capacity ? new AmpereHours(capacity) : null,
            row.NullableDouble(6),
            row.NullableText(7) is { } bought ? ParseDay(bought) : null,
            row.NullableText(8) is { } price ? ParseAmount(price) : null,
            row.NullableText(9),
            row.NullableText(10),
            row.NullableText(11)),
        Instant.Parse(row.GetString(12), row.GetInt64(13)),
        row.NullableText(14) is { } retired ? new Retirement(Instant.Parse(retired, row.GetInt64(15)), row.GetString(16)) : null);

    private static DateOnly ParseDay(string text) =>
        DateOnly.TryParseExact(text, DayFormat, CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly day)
            ? day
            : throw new InvalidDataException($"'{text}' is no day");

    private static decimal ParseAmount(string text) =>
        decimal.TryParse(text, NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out decimal amount)
            ? amount
            : throw new InvalidDataException($"'{text}' is no amount");
}
