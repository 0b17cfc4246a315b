using System.Text.Json.Serialization;

namespace PackCare.Analysis.Digests;

/// <summary>Reading and writing of digests without reflection; figures come back to the last bit.</summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase,
    DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
    NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals)]
[JsonSerializable(typeof(DigestContent))]
internal sealed partial class DigestJson : JsonSerializerContext;
