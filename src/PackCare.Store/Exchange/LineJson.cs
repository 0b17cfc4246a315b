using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using PackCare.Core.Packs;
using PackCare.Core.Reading;
using PackCare.Core.Sessions;

namespace PackCare.Store.Exchange;

/// <summary>How the lines of an export are written; the same record always gives the same bytes.</summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase,
    IgnoreReadOnlyProperties = true,
    RespectNullableAnnotations = true,
    RespectRequiredConstructorParameters = true,
    UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
    Converters =
    [
        typeof(ChemistryWords), typeof(EntryKindWords), typeof(SessionKindWords), typeof(TimeQualityWords),
        typeof(ColumnMeaningWords), typeof(LogLayoutWords), typeof(ProblemLevelWords),
    ])]
[JsonSerializable(typeof(ExportLine))]
[JsonSerializable(typeof(PackLine))]
[JsonSerializable(typeof(RetirementLine))]
[JsonSerializable(typeof(SpotCheckLine))]
[JsonSerializable(typeof(DiaryLine))]
[JsonSerializable(typeof(FileLine))]
[JsonSerializable(typeof(SessionLine))]
[JsonSerializable(typeof(StoredGuide))]
internal sealed partial class LineJson : JsonSerializerContext
{
    private static LineJson? _readable;

    /// <summary>Letters of all languages as they are; this JSON never stands inside a web page.</summary>
    public static LineJson Readable =>
        _readable ??= new(new JsonSerializerOptions(Default.Options) { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping });

    private sealed class ChemistryWords() : JsonStringEnumConverter<Chemistry>(AsOneWord.Policy, allowIntegerValues: false);

    private sealed class EntryKindWords() : JsonStringEnumConverter<EntryKind>(JsonNamingPolicy.KebabCaseLower, allowIntegerValues: false);

    private sealed class SessionKindWords() : JsonStringEnumConverter<SessionKind>(JsonNamingPolicy.KebabCaseLower, allowIntegerValues: false);

    private sealed class TimeQualityWords() : JsonStringEnumConverter<TimeQuality>(JsonNamingPolicy.KebabCaseLower, allowIntegerValues: false);

    private sealed class ColumnMeaningWords() : JsonStringEnumConverter<ColumnMeaning>(JsonNamingPolicy.KebabCaseLower, allowIntegerValues: false);

    private sealed class LogLayoutWords() : JsonStringEnumConverter<LogLayout>(JsonNamingPolicy.KebabCaseLower, allowIntegerValues: false);

    private sealed class ProblemLevelWords() : JsonStringEnumConverter<ProblemLevel>(JsonNamingPolicy.KebabCaseLower, allowIntegerValues: false);

    /// <summary>Names of chemistries are written as one word, as everywhere else.</summary>
    private sealed class AsOneWord : JsonNamingPolicy
    {
        public static AsOneWord Policy { get; } = new();

        public override string ConvertName(string name) => name.ToLowerInvariant();
    }
}
