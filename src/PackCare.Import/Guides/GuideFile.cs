using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;
using System.Text.Unicode;
using PackCare.Core.Reading;

namespace PackCare.Import.Guides;

/// <summary>Reads and writes guides as JSON; <c>docs/reading-guide.schema.json</c> describes the form.</summary>
public static class GuideFile
{
    /// <summary>The version of the form that is written.</summary>
    public const int Version = 1;

    private static readonly JsonSerializerOptions Options = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        ReadCommentHandling = JsonCommentHandling.Skip,
        AllowTrailingCommas = true,
        WriteIndented = true,
        Encoder = JavaScriptEncoder.Create(UnicodeRanges.All),
        Converters = { new JsonStringEnumConverter<ColumnMeaning>(JsonNamingPolicy.KebabCaseLower, allowIntegerValues: false) },
        TypeInfoResolver = GuideJson.Default,
    };

    private static readonly JsonTypeInfo<GuideForm> Form = (JsonTypeInfo<GuideForm>)Options.GetTypeInfo(typeof(GuideForm));

    /// <summary>Reads a guide.</summary>
    /// <param name="json">The file's text.</param>
    /// <param name="problem">Why it is no guide, with line and column, or null.</param>
    /// <returns>The guide, or null with a problem.</returns>
    public static ReadingGuide? Read(string json, out InputProblem? problem)
    {
        problem = null;
        GuideForm? form;
        try
        {
            form = JsonSerializer.Deserialize(json, Form);
        }
        catch (JsonException exception)
        {
            problem = Bad((int?)exception.LineNumber + 1, (int?)exception.BytePositionInLine + 1, $"a guide that cannot be understood{(exception.Path is null or "$" ? "" : $" at {exception.Path}")}");
            return null;
        }

        if (form is null || form.Guide != Version)
        {
            problem = Bad(null, null, $"a guide of version {form?.Guide}, where {Version} is known");
            return null;
        }

        string? wrong = Check(form);
        if (wrong is not null)
        {
            problem = Bad(null, null, wrong);
            return null;
        }

        return new ReadingGuide
        {
            Name = form.Name,
            FileName = form.AppliesTo?.FileName,
            Headers = form.AppliesTo?.Headers,
            Encoding = form.Encoding,
            Delimiter = form.Delimiter is null ? null : form.Delimiter == "\\t" ? '\t' : form.Delimiter[0],
            DecimalMark = form.Decimal?[0],
            DayFirst = form.DateOrder is null ? null : form.DateOrder == "day-first",
            ChargingIsPositive = form.PositiveCurrent is null ? null : form.PositiveCurrent == "charging",
            Zone = form.Zone,
            Pack = form.Pack,
            Columns = [.. (form.Columns ?? []).Select(column => new GuideColumn(column.Index, column.Header, column.Meaning, column.Unit, column.Cell))],
        };
    }

    /// <summary>Writes a guide.</summary>
    public static string Write(ReadingGuide guide)
    {
        ArgumentNullException.ThrowIfNull(guide);
        var form = new GuideForm
        {
            Guide = Version,
            Name = guide.Name,
            AppliesTo = guide.FileName is null && guide.Headers is null ? null : new GuideScope { FileName = guide.FileName, Headers = guide.Headers },
            Encoding = guide.Encoding,
            Delimiter = guide.Delimiter?.ToString(),
            Decimal = guide.DecimalMark?.ToString(),
            DateOrder = guide.DayFirst is bool dayFirst ? dayFirst ? "day-first" : "month-first" : null,
            PositiveCurrent = guide.ChargingIsPositive is bool charging ? charging ? "charging" : "discharging" : null,
            Zone = guide.Zone,
            Pack = guide.Pack,
            Columns = [.. guide.Columns.Select(column => new GuideFormColumn { Index = column.Index, Header = column.Header, Meaning = column.Meaning, Unit = column.Unit, Cell = column.Cell })],
        };
        return JsonSerializer.Serialize(form, Form) + "\n";
    }

    private static string? Check(GuideForm form)
    {
        if (form.Delimiter is not (null or ";" or "," or "\t" or "\\t" or "|" or " "))
        {
            return $"the delimiter \"{form.Delimiter}\", where one of ; , | tab and blank is due";
        }

        if (form.Decimal is not (null or "." or ","))
        {
            return $"the decimal mark \"{form.Decimal}\", where . or , is due";
        }

        if (form.Encoding is not (null or "utf-8" or "utf-16le" or "utf-16be" or "windows-1252"))
        {
            return $"the encoding \"{form.Encoding}\", where utf-8, utf-16le, utf-16be or windows-1252 is due";
        }

        if (form.DateOrder is not (null or "day-first" or "month-first"))
        {
            return $"the date order \"{form.DateOrder}\", where day-first or month-first is due";
        }

        if (form.PositiveCurrent is not (null or "charging" or "discharging"))
        {
            return $"the positive current \"{form.PositiveCurrent}\", where charging or discharging is due";
        }

        if (form.Zone is not null && !TimeZoneInfo.TryFindSystemTimeZoneById(form.Zone, out _))
        {
            return $"the zone \"{form.Zone}\", which is not known here";
        }

        foreach (GuideFormColumn column in form.Columns ?? [])
        {
            if (column.Index is null && column.Header is null)
            {
                return "a column with neither index nor header";
            }

            if (column.Index is < 1 || column.Cell is < 1)
            {
                return "a column or cell below 1";
            }

            if (column.Unit is not null && Meanings.UnitMarks.Parse(column.Unit) == Meanings.Unit.None)
            {
                return $"the unit \"{column.Unit}\", which is not known";
            }
        }

        return null;
    }

    private static InputProblem Bad(int? line, int? column, string found) =>
        new("bad-guide", ProblemLevel.Refusal, line, column, found, "correct the guide; docs/reading-guide.md describes it");
}
