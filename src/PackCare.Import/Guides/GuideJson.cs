using System.Text.Json.Serialization;

namespace PackCare.Import.Guides;

/// <summary>How guides are serialised, generated at build time.</summary>
[JsonSerializable(typeof(GuideForm))]
internal sealed partial class GuideJson : JsonSerializerContext;
