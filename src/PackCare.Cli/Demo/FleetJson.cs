using System.Text.Json;
using System.Text.Json.Serialization;

namespace PackCare.Cli.Demo;

/// <summary>How the roster is read, generated at build time.</summary>
[JsonSourceGenerationOptions(JsonSerializerDefaults.Web, UseStringEnumConverter = true, UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow)]
[JsonSerializable(typeof(FleetFile))]
internal sealed partial class FleetJson : JsonSerializerContext;
