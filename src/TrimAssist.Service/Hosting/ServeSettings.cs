using System.Text.Json;
using System.Text.Json.Serialization;
using TrimAssist.Service.Failures;
using TrimAssist.Service.Surfaces;

namespace TrimAssist.Service.Hosting;

/// <summary>
/// What <c>serve</c> is told, from three places: the command line, else the environment, else a file. Each setting is looked for by itself.
/// </summary>
internal static class ServeSettings
{
    private const string DesksVariable = "TRIMASSIST_DESKS";
    private const string DataVariable = "TRIMASSIST_DATA";
    private const string UrlsVariable = "TRIMASSIST_URLS";
    private const string LogVariable = "TRIMASSIST_LOG";
    private const string FileVariable = "TRIMASSIST_CONFIG";

    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web)
    {
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
        ReadCommentHandling = JsonCommentHandling.Skip,
        AllowTrailingCommas = true,
    };

    /// <summary>Puts the settings together and checks that a service can be started with them.</summary>
    /// <param name="said">What the command line says; what it leaves out is <see langword="null"/> or empty.</param>
    /// <param name="variable">Reads a variable of the environment.</param>
    /// <exception cref="UsageException">A setting cannot be used, or no desk is named anywhere.</exception>
    public static ServeOptions Read(Said said, Func<string, string?> variable)
    {
        var options = Gather(said, variable);
        if (options.Profiles.Count == 0)
            throw new UsageException($"No desk is named: give --desk PROFILE, set {DesksVariable}, or name \"desks\" in a file given by --config.");
        if (options.LogFile is { } log)
            RequireWritable(log);
        return options;
    }

    /// <summary>Puts the settings together, whether anything could be started with them or not. Touches nothing.</summary>
    /// <param name="said">What the command line says; what it leaves out is <see langword="null"/> or empty.</param>
    /// <param name="variable">Reads a variable of the environment.</param>
    /// <exception cref="UsageException">A setting cannot be used.</exception>
    public static ServeOptions Gather(Said said, Func<string, string?> variable)
    {
        var file = (said.File ?? Given(variable(FileVariable))) is { } path ? ReadFile(path) : InFile.Empty;
        var desks = said.Desks is { Count: > 0 } ? said.Desks
            : Given(variable(DesksVariable)) is { } listed ? listed.Split(';', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)
            : file.Desks ?? [];
        var urls = said.Urls ?? Given(variable(UrlsVariable)) ?? file.Urls ?? ServeOptions.DefaultUrl;
        ListenUrls.Read(urls);
        return new ServeOptions
        {
            Profiles = desks,
            DataFolder = said.Data ?? Given(variable(DataVariable)) ?? file.Data ?? ServeOptions.DefaultDataFolder,
            Urls = urls,
            Room = RoomSettings.Read(said.Room, file.Room),
            Surfaces = [.. (file.Surfaces ?? []).Select(surface => surface.Checked())],
            Webhook = OutboundSettings.Webhook(file.Webhook, name => Given(variable(name))),
            Mqtt = OutboundSettings.Mqtt(file.Mqtt, name => Given(variable(name))),
            LogFile = said.Log ?? Given(variable(LogVariable)) ?? file.Log,
        };
    }

    // A log that cannot be written is found out now, not when it is needed.
    private static void RequireWritable(string log)
    {
        try
        {
            File.Open(log, FileMode.Append).Dispose();
        }
        catch (Exception failed) when (failed is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw new UsageException($"The log {log} cannot be written: {failed.Message}");
        }
    }

    private static InFile ReadFile(string path)
    {
        try
        {
            var read = JsonSerializer.Deserialize<InFile>(File.ReadAllBytes(path), Json) ?? throw new UsageException($"{path}: is empty.");
            // A file says where things are as seen from its own folder.
            string Here(string name) => Path.Combine(Path.GetDirectoryName(Path.GetFullPath(path))!, name);
            return read with
            {
                Desks = read.Desks?.Select(Here).ToArray(),
                Data = read.Data is { } data ? Here(data) : null,
                Log = read.Log is { } log ? Here(log) : null,
                Mqtt = read.Mqtt is { Authorities: { } authorities } ? read.Mqtt with { Authorities = Here(authorities) } : read.Mqtt,
            };
        }
        catch (JsonException wrong)
        {
            throw new UsageException($"{path}: line {(wrong.LineNumber ?? 0) + 1}: only \"desks\" (a list of files), \"data\", \"urls\" and \"log\" (texts), \"room\" (true, false or an object, docs/rooms.md), \"surfaces\" (docs/surfaces.md), \"webhook\" and \"mqtt\" (docs/events-out.md) may stand here. {wrong.Message}");
        }
        catch (Exception failed) when (failed is IOException or UnauthorizedAccessException)
        {
            throw new UsageException($"{path}: {failed.Message}");
        }
    }

    private static string? Given(string? value) => string.IsNullOrWhiteSpace(value) ? null : value;

    /// <summary>What the command line says.</summary>
    /// <param name="File">The settings file.</param>
    /// <param name="Desks">The desk profiles.</param>
    /// <param name="Data">Where the journal lives.</param>
    /// <param name="Urls">Where to listen.</param>
    /// <param name="Log">A file that the log is written to as well.</param>
    /// <param name="Room">Whether it is a rehearsal room, and how it works; the file may say so too.</param>
    internal sealed record Said(string? File, IReadOnlyList<string>? Desks, string? Data, string? Urls, string? Log = null, RoomSettings.Said? Room = null);

    private sealed record InFile(
        IReadOnlyList<string>? Desks,
        string? Data,
        string? Urls,
        string? Log,
        [property: JsonConverter(typeof(RoomSettings.Converter))] RoomSettings.InFile? Room,
        IReadOnlyList<SurfaceSettings>? Surfaces,
        OutboundSettings.WebhookInFile? Webhook,
        OutboundSettings.MqttInFile? Mqtt)
    {
        public static InFile Empty { get; } = new(null, null, null, null, null, null, null, null);
    }
}
