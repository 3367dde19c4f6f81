using System.Text.Json;
using System.Text.Json.Serialization;
using TrimAssist.Core.Wording;

namespace TrimAssist.Service.Contract;

/// <summary>What is said leaves in English; what comes back from a journal is words as they stand.</summary>
internal sealed class SayingJson : JsonConverter<Saying>
{
    /// <inheritdoc/>
    public override Saying? Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        reader.GetString() is { } words ? Saying.Plain(words) : null;

    /// <inheritdoc/>
    public override void Write(Utf8JsonWriter writer, Saying value, JsonSerializerOptions options) => writer.WriteStringValue(value);
}
