using System.Text.Json;
using TrimAssist.Service.Events;

namespace TrimAssist.Service.Outbound.Mqtt;

/// <summary>Where an event is published, and whether the broker keeps it for those who come later.</summary>
/// <param name="Topic">The topic.</param>
/// <param name="Retained">Whether it is kept.</param>
internal readonly record struct MqttPlace(string Topic, bool Retained)
{
    /// <summary>Whether the service is there: retained, and its last will.</summary>
    public static string Status(string prefix) => $"{prefix}/status";

    /// <summary>
    /// The place of an event. How a desk and its last check stand is kept. A safe patch never is: a kept word says nothing about
    /// now, and somebody would plug on it; and neither is a proposal or an alarm.
    /// </summary>
    public static MqttPlace Of(string prefix, ServerEvent item)
    {
        using var body = JsonDocument.Parse(item.Json);
        var isDesk = item.Kind is "desk";
        var desk = body.RootElement.GetProperty(isDesk ? "id" : "desk").GetString();
        return new($"{prefix}/desks/{desk}/{(isDesk ? "state" : item.Kind)}", isDesk || item.Kind is "check");
    }
}
