using System.Text.Encodings.Web;
using System.Text.Json;

namespace PackCare.Report.Data;

/// <summary>Writes tables as JSON: an object with an array of objects a table.</summary>
internal static class JsonText
{
    /// <summary>Writes the tables.</summary>
    public static void Write(Stream stream, IReadOnlyList<string> files, ReportInput input, IEnumerable<DataSheet> sheets, IReadOnlyList<(string Pack, DataSheet? Samples)> lastCharges)
    {
        using var json = new Utf8JsonWriter(stream, new JsonWriterOptions { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping });
        json.WriteStartObject();
        json.WriteStartArray("files");
        foreach (string file in files)
        {
            json.WriteStringValue(file);
        }

        json.WriteEndArray();
        json.WriteString("made", input.Made);
        json.WriteString("notice", input.Notice);
        foreach (DataSheet sheet in sheets)
        {
            json.WriteStartArray(Camel(sheet.Name));
            WriteRows(json, sheet);
            json.WriteEndArray();
        }

        json.WriteStartArray("lastCharges");
        foreach ((string pack, DataSheet? samples) in lastCharges)
        {
            json.WriteStartObject();
            json.WriteString("pack", pack);
            if (samples is null)
            {
                json.WriteNull("samples");
            }
            else
            {
                json.WriteStartArray("samples");
                WriteRows(json, samples);
                json.WriteEndArray();
            }

            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void WriteRows(Utf8JsonWriter json, DataSheet sheet)
    {
        string[] keys = [.. sheet.Columns.Select(Camel)];
        foreach (object?[] row in sheet.Rows)
        {
            json.WriteStartObject();
            for (int column = 0; column < row.Length; column++)
            {
                json.WritePropertyName(keys[column]);
                WriteValue(json, row[column]);
            }

            json.WriteEndObject();
            if (json.BytesPending > 1 << 16)
            {
                json.Flush();
            }
        }
    }

    /// <summary>The name with capitals in place of underscores and hyphens.</summary>
    internal static string Camel(string name)
    {
        string[] words = name.Split('_', '-');
        return words[0] + string.Concat(words.Skip(1).Select(word => char.ToUpperInvariant(word[0]) + word[1..]));
    }

    private static void WriteValue(Utf8JsonWriter json, object? value)
    {
        switch (value)
        {
            case null:
                json.WriteNullValue();
                break;
            case double number when double.IsFinite(number):
                json.WriteNumberValue(number);
                break;
            case double:
                json.WriteNullValue();
                break;
            case decimal number:
                json.WriteNumberValue(number);
                break;
            case int number:
                json.WriteNumberValue(number);
                break;
            case long number:
                json.WriteNumberValue(number);
                break;
            case bool truth:
                json.WriteBooleanValue(truth);
                break;
            default:
                json.WriteStringValue(value is string text ? text : CsvText.Field(value));
                break;
        }
    }
}
