using TrimAssist.Desk.Link.Metering;
using TrimAssist.Desk.Link.Settings;
using TrimAssist.Desk.Profiles;
using TrimAssist.Desk.Profiles.Values;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.Desk.Link.Tongues;

/// <summary>OSC 1.0, one packet a message or a bundle.</summary>
internal sealed class OscTongue : IDeskTongue
{
    private readonly DeskProfile _profile;
    private readonly SocketIndex _sockets;
    private readonly MeterSource[] _meters;
    private readonly MeterSource[] _apart;
    private readonly ControlRouter _router;
    private readonly ITongueHost _host;
    private readonly TagClock _tags = new();

    public OscTongue(DeskProfile profile, SocketIndex sockets, MeterSource[] meters, SettingsBook book, ITongueHost host)
    {
        (_profile, _sockets, _meters, _host) = (profile, sockets, meters, host);
        _router = new ControlRouter(profile, sockets, book);
        // Where several sources speak in one message, the general way hears them all.
        _apart = [.. meters.GroupBy(meter => meter.Name, StringComparer.Ordinal).Where(same => same.Count() == 1).SelectMany(same => same)];
    }

    public void Receive(ReadOnlySpan<byte> packet, ReadOnlySpan<byte> sender, double now)
    {
        if (TakeKnown(packet, sender, now))
            return;
        var reader = new OscPacketReader(packet);
        while (reader.TryReadMessage(out var message))
            Take(ref message, sender, now);
        if (reader.Error != OscError.None)
            _host.OnMalformed(Math.Max(1, reader.DiscardedMessages), reader.Error.ToString());
    }

    public void Tick(double now)
    {
        // Every message is whole.
    }

    public void Begin()
    {
        // Every message is whole.
    }

    public void Skip()
    {
        // Every message is whole.
    }

    public byte[]? Question(ControlProfile control, int input) => control.Query is { } query ? PacketMaker.Make(query, input, _sockets[input]) : null;

    public IEnumerable<byte[]> Subscription(SubscriptionProfile subscription) => subscription.Message is not { } message ? []
        : message.NamesInput ? Enumerable.Range(1, _profile.Inputs).Select(input => PacketMaker.Make(message, input, _sockets[input])).OfType<byte[]>()
        : PacketMaker.Make(message, 1, null) is { } packet ? [packet] : [];

    public byte[]? Change(ControlProfile control, int input, WireValue value) =>
        control.Write is { } write ? PacketMaker.Fill(write, input, _sockets[input], value)?.Encode() : null;

    // Most packets are one meter message of the same form as the one before.
    private bool TakeKnown(ReadOnlySpan<byte> packet, ReadOnlySpan<byte> sender, double now)
    {
        foreach (var meter in _apart)
        {
            if (meter.TryRead(packet, out var input, out var value))
                return !_host.AdmitsMeters(sender) || meter.Give(input, value, now, order: 0) == Taken.Heard;
        }

        return false;
    }

    private void Take(ref OscMessageReader message, ReadOnlySpan<byte> sender, double now)
    {
        var at = _tags.At(message.TimeTag, now, out var order, out var turnedBad);
        if (turnedBad)
            _host.OnBadClock();
        // One message may hold the values of several sources: a peak and an RMS side by side, a level and its overload flag.
        var (heard, unusable) = (false, false);
        foreach (var meter in _meters)
        {
            if (!meter.Knows(message.Address, out var input, out var socket))
                continue;
            if (!_host.AdmitsMeters(sender))
                return;
            message.Rewind();
            var taken = meter.Take(ref message, input, socket, at, order);
            heard |= taken == Taken.Heard;
            unusable |= taken == Taken.Malformed;
        }

        if (!heard)
            TakeAnswer(ref message, unusable, now);
    }

    private void TakeAnswer(ref OscMessageReader message, bool unusable, double now)
    {
        message.Rewind();
        var answered = _router.Offer(ref message, now);
        if (answered == Taken.Heard)
            return;
        if (unusable || answered == Taken.Malformed)
            _host.OnMalformed(1, "no usable value");
        else
            _host.OnUnmatched();
    }
}
