using System.Globalization;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Units;
using TrimAssist.Desk.Link.Metering;
using TrimAssist.Desk.Profiles;
using TrimAssist.Desk.Profiles.Values;

namespace TrimAssist.Desk.Link.Settings;

/// <summary>What the desk last said about every input, and when.</summary>
internal sealed class SettingsBook
{
    private static readonly int Kinds = Enum.GetValues<ControlKind>().Length;
    private readonly DeskProfile _profile;
    private readonly SocketIndex _sockets;
    private readonly ISettingsListener _listener;
    private readonly InputSettings[] _settings;
    private readonly double[] _heardAt;

    public SettingsBook(DeskProfile profile, SocketIndex sockets, ISettingsListener listener)
    {
        (_profile, _sockets, _listener) = (profile, sockets, listener);
        _settings = [.. Enumerable.Range(1, profile.Inputs).Select(i => new InputSettings { Input = i, LinkedTo = FixedPartner(i) })];
        _heardAt = new double[profile.Inputs * Kinds];
        Array.Fill(_heardAt, double.NaN);
    }

    /// <summary>The inputs in order; each entry is replaced, never changed, so that it may be read from other threads.</summary>
    public IReadOnlyList<InputSettings> All => _settings;

    /// <summary>What is known of one input.</summary>
    public InputSettings Of(int input) => _settings[input - 1];

    /// <summary>When a control's value was last told; NaN while it never was.</summary>
    public double HeardAt(ControlKind kind, int input) => _heardAt[((input - 1) * Kinds) + (int)kind];

    /// <summary>The known value of a control that can be changed.</summary>
    public SettingValue? Value(ControlKind kind, int input) => (kind, Of(input)) switch
    {
        (ControlKind.Trim, { Trim: { } trim }) => SettingValue.Gain(trim),
        (ControlKind.Pad, { PadOn: { } on }) => SettingValue.Switch(on),
        (ControlKind.Mute, { Muted: { } on }) => SettingValue.Switch(on),
        _ => null,
    };

    /// <summary>Takes in what the desk said; <see langword="false"/> where it makes no sense.</summary>
    public bool Hear(ControlProfile control, int input, WireValue value, double now)
    {
        if (input < 1 || input > _settings.Length || Apply(control, Of(input), value) is not { } after)
            return false;

        var wasKnown = !double.IsNaN(HeardAt(control.Kind, input));
        _heardAt[((input - 1) * Kinds) + (int)control.Kind] = now;
        Replace(control.Kind, input, after, wasKnown, now);
        if (control.Kind == ControlKind.Link)
            MirrorLink(input, after.LinkedTo, now);
        _listener.OnHeard(control.Kind, input, now);
        return true;
    }

    /// <summary>Forgets everything the desk told: another engine has taken over.</summary>
    public void Forget(double now)
    {
        Array.Fill(_heardAt, double.NaN);
        for (var input = 1; input <= _settings.Length; input++)
        {
            _sockets.Set(input, null);
            Replace(ControlKind.Label, input, new InputSettings { Input = input, LinkedTo = FixedPartner(input) }, wasKnown: false, now);
        }
    }

    private InputSettings? Apply(ControlProfile control, InputSettings before, WireValue value)
    {
        switch (control.Kind)
        {
            case ControlKind.Trim:
                return Gain(control, value) is { } trim && double.IsFinite(trim) ? before with { Trim = new Decibels(trim) } : null;
            case ControlKind.Fader:
                return Gain(control, value) is { } fader ? before with { FaderDb = fader } : null;
            case ControlKind.Pad:
                return Position(control, value) is { } pad ? before with { PadOn = pad } : null;
            case ControlKind.Mute:
                return Position(control, value) is { } mute ? before with { Muted = mute } : null;
            case ControlKind.Phantom:
                return Position(control, value) is { } phantom ? before with { PhantomOn = phantom } : null;
            case ControlKind.Label:
                return before with { Label = Word(value) };
            case ControlKind.Source:
                return Repatched(before, Word(value));
            default:
                return Linked(control, before, value);
        }
    }

    private static double? Gain(ControlProfile control, WireValue value) => HeardValue.AsNumber(value) is { } number ? control.Scale?.ToDb(number) : null;

    private static bool? Position(ControlProfile control, WireValue value) =>
        control.On is { } on && on.Means(value) ? true : control.Off is { } off && off.Means(value) ? false : null;

    private static string Word(WireValue value) => value.Text ?? value.Number.ToString("0.######", CultureInfo.InvariantCulture);

    // What belongs to the socket is not known of the new one before the desk has told it.
    private InputSettings Repatched(InputSettings before, string socket)
    {
        if (string.Equals(before.Socket, socket, StringComparison.Ordinal))
            return before;

        _sockets.Set(before.Input, socket);
        var after = before with { Socket = socket };
        foreach (var control in _profile.Controls)
        {
            if (control.Write is not { HasSocket: true })
                continue;
            _heardAt[((before.Input - 1) * Kinds) + (int)control.Kind] = double.NaN;
            after = control.Kind switch
            {
                ControlKind.Trim => after with { Trim = null },
                ControlKind.Pad => after with { PadOn = null },
                ControlKind.Phantom => after with { PhantomOn = null },
                ControlKind.Mute => after with { Muted = null },
                ControlKind.Fader => after with { FaderDb = null },
                _ => after,
            };
        }

        return after;
    }

    private InputSettings? Linked(ControlProfile control, InputSettings before, WireValue value)
    {
        if (_profile.LinkIsFlag)
            return Position(control, value) is { } on ? before with { LinkedTo = on ? Neighbour(before.Input) : null } : null;
        if (HeardValue.AsNumber(value) is not { } number || number != Math.Floor(number))
            return null;
        return before with { LinkedTo = number >= 1 && number <= _settings.Length && (int)number != before.Input ? (int)number : null };
    }

    private int? Neighbour(int input)
    {
        var other = input % 2 == 1 ? input + 1 : input - 1;
        return other <= _settings.Length ? other : null;
    }

    private int? FixedPartner(int input)
    {
        foreach (var (first, second) in _profile.FixedPairs)
        {
            if (first == input || second == input)
                return first == input ? second : first;
        }

        return null;
    }

    private void MirrorLink(int input, int? partner, double now)
    {
        for (var other = 1; other <= _settings.Length; other++)
        {
            if (other != input && (other == partner ? Of(other).LinkedTo != input : Of(other).LinkedTo == input))
                Replace(ControlKind.Link, other, Of(other) with { LinkedTo = other == partner ? input : null }, wasKnown: true, now);
        }
    }

    private void Replace(ControlKind kind, int input, InputSettings after, bool wasKnown, double now)
    {
        var before = Of(input);
        if (before == after)
            return;
        _settings[input - 1] = after;
        _listener.OnChanged(kind, before, after, wasKnown, now);
    }
}
