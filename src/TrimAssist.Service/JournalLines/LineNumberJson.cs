using System.Text.Json;
using System.Text.Json.Serialization;

namespace TrimAssist.Service.JournalLines;

/// <summary>A number in a line: a level, a gain, a time. JSON can spell numbers that no calculation survives.</summary>
internal sealed class LineNumberJson : JsonConverter<double>
{
    /// <summary>No level in dB comes near, nor the seconds of a service that has run for thirty years.</summary>
    private const double Largest = 1e9;

    /// <inheritdoc/>
    public override double Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        reader.TokenType == JsonTokenType.Number && reader.GetDouble() is var number && Math.Abs(number) <= Largest
            ? number
            : throw new JsonException();

    /// <inheritdoc/>
    public override void Write(Utf8JsonWriter writer, double value, JsonSerializerOptions options) => writer.WriteNumberValue(value);
}
