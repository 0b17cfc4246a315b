using System.Collections;
using System.Collections.Concurrent;
using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Reflection;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using PackCare.Core.Packs;

namespace PackCare.Cli.Output;

/// <summary>Writes results for programs: one JSON value a line, UTF-8, absent knowledge as null.</summary>
/// <remarks>
/// Values are what commands put together on the spot, so their members are looked up while the program runs; the serializer's own way of
/// doing that needs code made at run time, which a program compiled ahead as a whole cannot do.
/// </remarks>
internal static class JsonText
{
    private static readonly JsonWriterOptions _options = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    private static readonly ConcurrentDictionary<Type, (JsonEncodedText Name, PropertyInfo Property)[]> _members = new();

    /// <summary>Writes one value on one line.</summary>
    /// <param name="writer">Where to.</param>
    /// <param name="value">Text, a number, a truth value, a word of an enumeration, a sequence of values, or an object of which each public property is a value.</param>
    public static void WriteLine(TextWriter writer, object? value)
    {
        using var bytes = new MemoryStream();
        using (var json = new Utf8JsonWriter(bytes, _options))
        {
            Write(json, value);
        }

        writer.WriteLine(Encoding.UTF8.GetString(bytes.GetBuffer().AsSpan(0, (int)bytes.Length)));
    }

    /// <summary>A moment in UTC as ISO 8601, or null.</summary>
    public static string? Utc(DateTimeOffset? moment) => moment?.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.FFFFFFF'Z'", CultureInfo.InvariantCulture);

    private static void Write(Utf8JsonWriter json, object? value)
    {
        switch (value)
        {
            case null:
                json.WriteNullValue();
                break;
            case string text:
                json.WriteStringValue(text);
                break;
            case char letter:
                json.WriteStringValue([letter]);
                break;
            case bool truth:
                json.WriteBooleanValue(truth);
                break;
            case double number when !double.IsFinite(number):
                json.WriteNullValue();
                break;
            case double number:
                // Twelve significant digits: beyond any sensor, and free of the tails of binary fractions.
                json.WriteRawValue(number.ToString("G12", CultureInfo.InvariantCulture));
                break;
            case int or long or decimal:
                json.WriteRawValue(((IFormattable)value).ToString(null, CultureInfo.InvariantCulture));
                break;
            case Chemistry chemistry:
                json.WriteStringValue(Words.Of(chemistry));
                break;
            case Enum word:
                json.WriteStringValue(Words.Of(word));
                break;
            case DateOnly day:
                json.WriteStringValue(day.ToString("O", CultureInfo.InvariantCulture));
                break;
            case IEnumerable values:
                WriteArray(json, values);
                break;
            default:
                WriteObject(json, value);
                break;
        }
    }

    private static void WriteArray(Utf8JsonWriter json, IEnumerable values)
    {
        json.WriteStartArray();
        foreach (object? value in values)
        {
            Write(json, value);
        }

        json.WriteEndArray();
    }

    private static void WriteObject(Utf8JsonWriter json, object value)
    {
        json.WriteStartObject();
        foreach ((JsonEncodedText name, PropertyInfo property) in _members.GetOrAdd(value.GetType(), Members))
        {
            json.WritePropertyName(name);
            Write(json, property.GetValue(value));
        }

        json.WriteEndObject();
    }

    [UnconditionalSuppressMessage("Trimming", "IL2070", Justification = "The project file keeps all members of the program's own assemblies.")]
    private static (JsonEncodedText Name, PropertyInfo Property)[] Members(Type type)
    {
        PropertyInfo[] properties = type.GetProperties(BindingFlags.Public | BindingFlags.Instance);
        return type.IsPrimitive || properties.Length == 0
            ? throw new InvalidOperationException($"There is no form for a value of {type}.")
            : [.. properties.Select(property => (JsonEncodedText.Encode(JsonNamingPolicy.CamelCase.ConvertName(property.Name), _options.Encoder), property))];
    }
}
