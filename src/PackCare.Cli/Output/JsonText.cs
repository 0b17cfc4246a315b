using System.Globalization;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace PackCare.Cli.Output;

/// <summary>Writes results for programs: one JSON value a line, UTF-8, absent knowledge as null.</summary>
internal static class JsonText
{
    private static readonly JsonSerializerOptions _options = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        Converters = { new FiniteNumber(), new WordOfEnum() },
    };

    /// <summary>Writes one value on one line.</summary>
    public static void WriteLine(TextWriter writer, object? value) => writer.WriteLine(JsonSerializer.Serialize(value, _options));

    /// <summary>A moment in UTC as ISO 8601, or null.</summary>
    public static string? Utc(DateTimeOffset? moment) => moment?.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.FFFFFFF'Z'", CultureInfo.InvariantCulture);

    // Twelve significant digits: beyond any sensor, and free of the tails of binary fractions.
    private sealed class FiniteNumber : JsonConverter<double>
    {
        public override double Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) => reader.GetDouble();

        public override void Write(Utf8JsonWriter writer, double value, JsonSerializerOptions options)
        {
            if (double.IsFinite(value))
            {
                writer.WriteRawValue(value.ToString("G12", CultureInfo.InvariantCulture));
            }
            else
            {
                writer.WriteNullValue();
            }
        }
    }

    private sealed class WordOfEnum : JsonConverterFactory
    {
        public override bool CanConvert(Type typeToConvert) => typeToConvert.IsEnum;

        public override JsonConverter CreateConverter(Type typeToConvert, JsonSerializerOptions options) =>
            (JsonConverter)Activator.CreateInstance(typeof(Converter<>).MakeGenericType(typeToConvert))!;

        private sealed class Converter<T> : JsonConverter<T>
            where T : struct, Enum
        {
            public override T Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) => throw new NotSupportedException();

            public override void Write(Utf8JsonWriter writer, T value, JsonSerializerOptions options) =>
                writer.WriteStringValue(value is Core.Packs.Chemistry chemistry ? Words.Of(chemistry) : Words.Of(value));
        }
    }
}
