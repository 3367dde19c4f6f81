using TrimAssist.Service.Failures;
using TrimAssist.Service.Outbound.Mqtt;
using TrimAssist.Service.Outbound.Webhook;

namespace TrimAssist.Service.Hosting;

/// <summary>Where events leave to, from the environment, else a settings file. Secrets have no place on a command line: everybody on the machine can read that.</summary>
internal static class OutboundSettings
{
    /// <summary>The webhook; <see langword="null"/> where none is named.</summary>
    /// <exception cref="UsageException">It cannot be used.</exception>
    public static WebhookOptions? Webhook(WebhookInFile? file, Func<string, string?> variable)
    {
        if ((variable("TRIMASSIST_WEBHOOK_URL") ?? file?.Url) is not { } url)
            return null;
        return WebhookOptions.Read(url, variable("TRIMASSIST_WEBHOOK_SECRET") ?? file?.Secret, out var problem) ?? throw new UsageException(problem!);
    }

    /// <summary>The broker; <see langword="null"/> where none is named.</summary>
    /// <exception cref="UsageException">It cannot be used.</exception>
    public static MqttOptions? Mqtt(MqttInFile? file, Func<string, string?> variable)
    {
        if ((variable("TRIMASSIST_MQTT_SERVER") ?? file?.Server) is not { } server)
            return null;
        return MqttOptions.Read(
            server, variable("TRIMASSIST_MQTT_USER") ?? file?.User, variable("TRIMASSIST_MQTT_PASSWORD") ?? file?.Password,
            variable("TRIMASSIST_MQTT_TOPIC") ?? file?.Topic, variable("TRIMASSIST_MQTT_AUTHORITIES") ?? file?.Authorities, out var problem)
            ?? throw new UsageException(problem!);
    }

    /// <summary>The webhook as a settings file has it.</summary>
    internal sealed record WebhookInFile(string? Url, string? Secret);

    /// <summary>The broker as a settings file has it.</summary>
    internal sealed record MqttInFile(string? Server, string? User, string? Password, string? Topic, string? Authorities);
}
