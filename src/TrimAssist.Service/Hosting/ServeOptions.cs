using TrimAssist.Core.Assist;
using TrimAssist.Desk.Link.Transport;
using TrimAssist.Service.Outbound.Mqtt;
using TrimAssist.Service.Outbound.Webhook;
using TrimAssist.Service.Surfaces;

namespace TrimAssist.Service.Hosting;

/// <summary>What the service is told at start.</summary>
internal sealed record ServeOptions
{
    /// <summary>The desk profiles.</summary>
    public required IReadOnlyList<string> Profiles { get; init; }

    /// <summary>Where the journal lives.</summary>
    public required string DataFolder { get; init; }

    /// <summary>Where to listen; default loopback.</summary>
    public string Urls { get; init; } = DefaultUrl;

    /// <summary>The certificate that https addresses are served with; <see langword="null"/> for none.</summary>
    public System.Security.Cryptography.X509Certificates.X509Certificate2? Certificate { get; init; }

    /// <summary>The input lists of the acts, in running order; a list is for the first desk unless it names others.</summary>
    public IReadOnlyList<string> InputLists { get; init; } = [];

    /// <summary>How the rehearsal rooms work that the desks stand in; <see langword="null"/> where they stand elsewhere.</summary>
    public RehearsalOptions? Room { get; init; }

    /// <summary>A new file that the raw link of every desk is recorded into.</summary>
    public string? RecordFile { get; init; }

    /// <summary>A file that the log is written to as well; <see langword="null"/> for none.</summary>
    public string? LogFile { get; init; }

    /// <summary>Where events are posted; <see langword="null"/> for nowhere.</summary>
    public WebhookOptions? Webhook { get; init; }

    /// <summary>The broker that events are published to; <see langword="null"/> for none.</summary>
    public MqttOptions? Mqtt { get; init; }

    /// <summary>A recorded link of a desk, by its id, instead of the desk itself.</summary>
    public Func<string, IDeskSocket?> Replayed { get; init; } = static _ => null;

    /// <summary>The control surfaces; none unless asked for.</summary>
    public IReadOnlyList<SurfaceOptions> Surfaces { get; init; } = [];

    /// <summary>The clock.</summary>
    public TimeProvider Time { get; init; } = TimeProvider.System;

    /// <summary>Where the journal lives where nothing else is asked for.</summary>
    public static string DefaultDataFolder =>
        Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.Create), "trimassist");

    /// <summary>The URL where nothing else is asked for.</summary>
    public const string DefaultUrl = "http://127.0.0.1:5188";
}
