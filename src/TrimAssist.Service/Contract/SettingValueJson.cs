using System.Text.Json;
using System.Text.Json.Serialization;
using TrimAssist.Core.Desks;

namespace TrimAssist.Service.Contract;

/// <summary>A setting on the wire: a number of dB, or true and false.</summary>
internal sealed class SettingValueJson : JsonConverter<SettingValue>
{
    /// <inheritdoc/>
    public override SettingValue Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) => reader.TokenType switch
    {
        // By the rule that is in force for numbers.
        JsonTokenType.Number => SettingValue.Gain(((JsonConverter<double>)options.GetConverter(typeof(double))).Read(ref reader, typeof(double), options)),
        JsonTokenType.True => SettingValue.Switch(true),
        JsonTokenType.False => SettingValue.Switch(false),
        _ => throw new JsonException("A setting is a number or a boolean."),
    };

    /// <inheritdoc/>
    public override void Write(Utf8JsonWriter writer, SettingValue value, JsonSerializerOptions options)
    {
        if (value.Db is { } db)
            writer.WriteNumberValue(Math.Round(db, 3));
        else
            writer.WriteBooleanValue(value.On is true);
    }
}
