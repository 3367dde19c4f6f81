using TrimAssist.Desk.Link.Metering;
using TrimAssist.Desk.Link.Settings;
using TrimAssist.Desk.Profiles;
using TrimAssist.Desk.Profiles.Templates;
using TrimAssist.Desk.Profiles.Values;
using TrimAssist.Protocols.Midi;

namespace TrimAssist.Desk.Link.Tongues;

/// <summary>MIDI 1.0 as a stream of bytes. Machine control, show control, clocks and whatever else the profile does not name are left alone.</summary>
internal sealed class MidiTongue : IDeskTongue
{
    /// <summary>So long an upper half waits for its lower one before it counts alone: ten times what a slow cable needs for both.</summary>
    private const double HalfS = 0.03;

    private readonly DeskProfile _profile;
    private readonly SettingsBook _book;
    private readonly ITongueHost _host;
    private readonly MidiIndex _index;
    private readonly (MeterProfile Profile, MeterSource Source, ExclusiveTemplate Form)[] _exclusiveMeters;
    private readonly (ControlProfile Control, ExclusiveTemplate Form)[] _exclusiveControls;
    private readonly List<MidiPlace> _halves = [];
    private readonly MidiParser _parser = new();
    private readonly MidiValueAssembler _assembler = new();
    private long _faults;

    public MidiTongue(DeskProfile profile, IReadOnlyList<MeterSource> meters, SettingsBook book, ITongueHost host)
    {
        (_profile, _book, _host) = (profile, book, host);
        List<MeterProfile> sources = [.. profile.Meters, .. profile.Overloads];
        _index = new MidiIndex(profile, sources, meters);
        _exclusiveMeters = [.. sources.Zip(meters).Where(one => one.First.Midi?.Exclusive is not null).Select(one => (one.First, one.Second, one.First.Midi!.Exclusive!))];
        _exclusiveControls = [.. profile.Controls.Where(control => control.Midi?.Told.Exclusive is not null).Select(control => (control, control.Midi!.Told.Exclusive!))];
    }

    public void Receive(ReadOnlySpan<byte> packet, ReadOnlySpan<byte> sender, double now)
    {
        while (_parser.TryRead(ref packet, out var message, out var exclusive))
        {
            if (!exclusive.IsEmpty)
                Take(exclusive, sender, now);
            else if (message.Channel is { } channel)
                Take(message, channel, sender, now);
        }

        if (_parser.Faults == _faults)
            return;
        _host.OnMalformed((int)Math.Min(_parser.Faults - _faults, int.MaxValue), _parser.LastError.ToString());
        _faults = _parser.Faults;
    }

    public void Tick(double now)
    {
        for (var i = _halves.Count - 1; i >= 0; i--)
        {
            var place = _halves[i];
            if (now - place.HalfAt < HalfS)
                continue;
            _halves.RemoveAt(i);
            (var at, place.HalfAt) = (place.HalfAt, double.NaN);
            Give(place, place.Half, at);
        }
    }

    public void Begin()
    {
        Skip();
        _parser.Reset();
    }

    public void Skip()
    {
        _assembler.Forget();
        _halves.ForEach(place => place.HalfAt = double.NaN);
        _halves.Clear();
    }

    public byte[]? Question(ControlProfile control, int input) => control.Midi?.Query?.Format(input, null);

    public IEnumerable<byte[]> Subscription(SubscriptionProfile subscription) => subscription.Exclusive is not { } message ? []
        : Enumerable.Range(1, message.HasInput ? _profile.Inputs : 1).Select(input => message.Format(input, null)).OfType<byte[]>();

    public byte[]? Change(ControlProfile control, int input, WireValue value) => control.Midi?.Write.Encode(input, (int)value.Number);

    private void Take(MidiMessage message, int channel, ReadOnlySpan<byte> sender, double now)
    {
        switch (message.Kind)
        {
            case MidiStatus.ControlChange:
                TakeController(message, channel, sender, now);
                break;
            case MidiStatus.NoteOn:
                Offer(_index.Find(MidiMessageKind.Note, channel, message.Data1), message.Data2, sender, now);
                break;
            case MidiStatus.NoteOff:
                Offer(_index.Find(MidiMessageKind.Note, channel, message.Data1), 0, sender, now);
                break;
            case MidiStatus.KeyPressure:
                Offer(_index.Find(MidiMessageKind.PolyPressure, channel, message.Data1), message.Data2, sender, now);
                break;
            default:
                _host.OnUnmatched();
                break;
        }
    }

    private void TakeController(MidiMessage message, int channel, ReadOnlySpan<byte> sender, double now)
    {
        var isValue = _assembler.TryTake(message, out var value);
        if (_index.Find(MidiMessageKind.Controller, channel, message.Data1) is { } plain)
        {
            Offer(plain, message.Data2, sender, now);
            return;
        }

        if (!isValue || value.Kind == MidiValueKind.Registered)
            return;
        var kind = value.Kind == MidiValueKind.Controller ? MidiMessageKind.Controller14 : MidiMessageKind.Nrpn;
        if (_index.Find(kind, channel, value.Number) is not { } place)
            _host.OnUnmatched();
        else if (message.Data1 < MidiController.LowerHalfOffset)
            Hold(place, value.Value, sender, now);
        else
            Offer(place, value.Value, sender, now);
    }

    // MIDI 1.0 has the upper half count at once, with a lower half of 0; here it would be a setting that never was.
    private void Hold(MidiPlace place, int value, ReadOnlySpan<byte> sender, double now)
    {
        if (place.Meters.Count > 0 && !_host.AdmitsMeters(sender))
            return;
        if (double.IsNaN(place.HalfAt))
            _halves.Add(place);
        (place.Half, place.HalfAt) = (value, now);
    }

    private void Offer(MidiPlace? place, int value, ReadOnlySpan<byte> sender, double now)
    {
        if (place is null)
        {
            _host.OnUnmatched();
            return;
        }

        if (!double.IsNaN(place.HalfAt))
        {
            place.HalfAt = double.NaN;
            _halves.Remove(place);
        }

        if (place.Meters.Count == 0 || _host.AdmitsMeters(sender))
            Give(place, value, now);
    }

    private void Give(MidiPlace place, int value, double now)
    {
        foreach (var meter in place.Meters)
            meter.Give(place.Input, value, now, order: 0);
        if (place.Control is { } control && !_book.Hear(control, place.Input, new WireValue(WireType.Whole, value), now))
            _host.OnMalformed(1, "no usable value");
    }

    private void Take(ReadOnlySpan<byte> exclusive, ReadOnlySpan<byte> sender, double now)
    {
        var known = false;
        foreach (var (profile, source, form) in _exclusiveMeters)
        {
            var count = Math.Max(1, profile.Count);
            if (!form.TryMatch(exclusive, count, out var input, out var values))
                continue;
            known = true;
            if (!_host.AdmitsMeters(sender))
                return;
            for (var i = 0; i < count; i++)
                source.Give(input > 0 ? input : profile.FirstInput + i, form.ValueAt(values, i), now, order: 0);
        }

        foreach (var (control, form) in _exclusiveControls)
        {
            if (known || !form.TryMatch(exclusive, 1, out var input, out var values))
                continue;
            known = true;
            if (!_book.Hear(control, Math.Max(1, input), new WireValue(WireType.Whole, form.ValueAt(values, 0)), now))
                _host.OnMalformed(1, "no usable value");
        }

        if (!known)
            _host.OnUnmatched();
    }
}
