using System.Text.Json;
using System.Text.Json.Serialization;
using PackCare.Core.Reading;

namespace PackCare.Store.Json;

/// <summary>How a file's reading, ledger and notices are written as JSON text.</summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase,
    RespectNullableAnnotations = true,
    RespectRequiredConstructorParameters = true,
    Converters = [typeof(ColumnMeaningWords), typeof(LogLayoutWords), typeof(ProblemLevelWords)])]
[JsonSerializable(typeof(LogReading))]
[JsonSerializable(typeof(Ledger))]
[JsonSerializable(typeof(IReadOnlyList<InputProblem>))]
internal sealed partial class FileJson : JsonSerializerContext
{
    private sealed class ColumnMeaningWords() : JsonStringEnumConverter<ColumnMeaning>(JsonNamingPolicy.KebabCaseLower, allowIntegerValues: false);

    private sealed class LogLayoutWords() : JsonStringEnumConverter<LogLayout>(JsonNamingPolicy.KebabCaseLower, allowIntegerValues: false);

    private sealed class ProblemLevelWords() : JsonStringEnumConverter<ProblemLevel>(JsonNamingPolicy.KebabCaseLower, allowIntegerValues: false);
}
