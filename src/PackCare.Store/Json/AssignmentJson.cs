using System.Text.Json;
using System.Text.Json.Serialization;
using PackCare.Core.Sessions;

namespace PackCare.Store.Json;

/// <summary>How what an assignment replaced is written as JSON text.</summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase,
    IgnoreReadOnlyProperties = true,
    RespectNullableAnnotations = true,
    Converters = [typeof(SessionKindWords)])]
[JsonSerializable(typeof(AssignmentState))]
internal sealed partial class AssignmentJson : JsonSerializerContext
{
    private sealed class SessionKindWords() : JsonStringEnumConverter<SessionKind>(JsonNamingPolicy.KebabCaseLower, allowIntegerValues: false);
}
