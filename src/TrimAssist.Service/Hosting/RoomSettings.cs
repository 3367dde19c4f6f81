using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;
using TrimAssist.Core.Assist;
using TrimAssist.Core.Gate;
using TrimAssist.Service.Failures;

namespace TrimAssist.Service.Hosting;

/// <summary>How a rehearsal room works, from the command line, else a settings file, in which <c>"room"</c> is true, false or an object.</summary>
internal static class RoomSettings
{
    /// <summary>A day has room for so many.</summary>
    private const int MostChecks = 48;

    /// <summary>The room; <see langword="null"/> where none is asked for.</summary>
    /// <exception cref="UsageException">A setting cannot be used.</exception>
    public static RehearsalOptions? Read(Said? said, InFile? file)
    {
        if (said is { IsOn: false, ChecksAt.Count: > 0 } or { IsOn: false, MostRiseDb: not null } && file is not { IsOn: true })
            throw new UsageException("--room-check-at and --room-rise go with --room.");
        if (said is not { IsOn: true } && file is not { IsOn: true })
            return null;
        var times = said?.ChecksAt is { Count: > 0 } listed ? listed : file?.ChecksAt ?? [];
        if (times.Count > MostChecks)
            throw new UsageException($"A room has at most {MostChecks} checks a day by the clock.");
        // Whoever is stricter is believed.
        double[] limits = [.. new[] { said?.MostRiseDb, file?.MostRiseDb }.OfType<double>(), RiseCeiling.MostDb];
        return limits.All(limit => limit is >= 0 and <= RiseCeiling.MostDb)
            ? new RehearsalOptions { ChecksAt = [.. times.Select(Time)], MostRiseDb = limits.Min() }
            : throw new UsageException($"A room's session may rise by 0 to {RiseCeiling.MostDb:0} dB: the limit can be made tighter, never wider.");
    }

    private static TimeOnly Time(string text) => TimeOnly.TryParseExact(text, "H:mm", CultureInfo.InvariantCulture, DateTimeStyles.None, out var time)
        ? time
        : throw new UsageException($"\"{text}\" is no time of the day: write 18:30.");

    /// <summary>What the command line says.</summary>
    internal sealed record Said(bool IsOn, IReadOnlyList<string>? ChecksAt = null, double? MostRiseDb = null);

    /// <summary>What a settings file says.</summary>
    internal sealed record InFile(bool IsOn, IReadOnlyList<string>? ChecksAt, double? MostRiseDb);

    /// <summary>Reads true, false, or an object, which means true.</summary>
    internal sealed class Converter : JsonConverter<InFile>
    {
        public override InFile? Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) => reader.TokenType switch
        {
            JsonTokenType.True => new(true, null, null),
            JsonTokenType.False => new(false, null, null),
            _ => JsonSerializer.Deserialize<AsObject>(ref reader, options) is { } room ? new(true, room.ChecksAt, room.MostRiseDb) : null,
        };

        public override void Write(Utf8JsonWriter writer, InFile value, JsonSerializerOptions options) => throw new NotSupportedException("Settings are only read.");

        private sealed record AsObject(IReadOnlyList<string>? ChecksAt, double? MostRiseDb);
    }
}
