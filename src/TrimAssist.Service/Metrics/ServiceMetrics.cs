using System.Diagnostics.Metrics;
using TrimAssist.Core.Alarms;
using TrimAssist.Core.Desks;
using TrimAssist.Service.Contract;
using TrimAssist.Service.Events;
using TrimAssist.Service.JournalLines;
using TrimAssist.Service.Loops;
using TrimAssist.Service.Outbound;

namespace TrimAssist.Service.Metrics;

/// <summary>The figures of <c>/metrics</c>. Desks' figures are those of the last second: a scrape never waits for a desk's loop.</summary>
internal sealed class ServiceMetrics : IDisposable
{
    /// <summary>The meter's name.</summary>
    public const string MeterName = "TrimAssist";

    private readonly Meter _meter = new(MeterName);

    public ServiceMetrics(DeskHosts desks, GateJournal journal, LineReader earlier, EventHub hub, OutboundRelay outbound)
    {
        _meter.CreateObservableCounter("trimassist_journal_lines_lost", () => journal.Lost, description: "Journal lines that could not be written.");
        _meter.CreateObservableGauge("trimassist_journal_lines_unread", () => earlier.Unread, description: "Journal lines of earlier runs that could not be read at the start.");
        _meter.CreateObservableGauge("trimassist_event_clients", () => hub.Clients, description: "Clients of the event stream.");
        PerOutlet(outbound, "trimassist_outbound_delivered", outlet => outlet.Delivered, "Events that a webhook or broker took.");
        PerOutlet(outbound, "trimassist_outbound_dropped", outlet => outlet.Dropped, "Events that were never delivered to a webhook or broker.");
        PerDesk(desks, "trimassist_desk_live", desk => desk.State == LinkState.Live ? 1 : 0, "Whether the link to the desk is live.");
        PerDesk(desks, "trimassist_alarms", desk => desk.Alarms, "Alarms since the service began, one for each group.");
        PerDesk(desks, "trimassist_alarms_last_ten_minutes", desk => desk.LastTenMinutes, "Alarms in the last ten minutes; more than 10 are a flood (IEC 62682).");
        PerDesk(desks, "trimassist_alarms_last_hour", desk => desk.LastHour, "Alarms in the last hour; about 6 are acceptable, 12 the most (IEC 62682).");
        PerDesk(desks, "trimassist_alarm_flood", desk => desk.Flood ? 1 : 0, "Whether there is an alarm flood.");
        PerDesk(desks, "trimassist_alarms_chattering", desk => desk.Chattering, "How often an alarm came for the third time within a minute.");
        PerDesk(desks, "trimassist_alarms_stale", desk => desk.Stale, "Alarms that stand for more than a day.");
        PerDesk(desks, "trimassist_frames_heard", desk => desk.FramesHeard, "Meter frames heard.");
        PerDesk(desks, "trimassist_frames_lost", desk => desk.FramesLost, "Meter frames missing, by gaps.");
        PerDesk(desks, "trimassist_datagrams_dropped", desk => desk.DatagramsDropped, "Datagrams from a source not let in.");
        PerDesk(desks, "trimassist_datagrams_malformed", desk => desk.DatagramsMalformed, "Datagrams that are not OSC.");
        PerDesk(desks, "trimassist_datagrams_overflowed", desk => desk.DatagramsOverflowed, "Datagrams that the system threw away because its buffer was full.");
        PerDesk(desks, "trimassist_receive_buffer_bytes", desk => desk.ReceiveBufferBytes, "Room for waiting datagrams that the system granted.");
    }

    /// <inheritdoc/>
    public void Dispose() => _meter.Dispose();

    private void PerOutlet(OutboundRelay outbound, string name, Func<IEventOutlet, long> figure, string description) => _meter.CreateObservableCounter(
        name,
        () => outbound.Outlets.Select(outlet => new Measurement<long>(figure(outlet), new KeyValuePair<string, object?>("outlet", outlet.Name))),
        description: description);

    private void PerDesk(DeskHosts desks, string name, Func<DeskReply, long?> figure, string description) =>
        PerHost(desks, name, desk => figure(desk.LastDescribed), description);

    private void PerDesk(DeskHosts desks, string name, Func<AlarmFigures, long> figure, string description) =>
        PerHost(desks, name, desk => figure(desk.LastAlarmFigures), description);

    // What is unknown is left out, never told as zero.
    private void PerHost(DeskHosts desks, string name, Func<DeskHost, long?> figure, string description) => _meter.CreateObservableGauge(
        name,
        () =>
            from desk in desks.All
            let known = figure(desk)
            where known is not null
            select new Measurement<long>(known.Value, new KeyValuePair<string, object?>("desk", desk.Description.Id)),
        description: description);
}
