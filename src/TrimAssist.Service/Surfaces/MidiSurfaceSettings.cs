using System.Collections.Immutable;
using System.Globalization;
using System.Net;
using TrimAssist.Service.Failures;

namespace TrimAssist.Service.Surfaces;

/// <summary>A MIDI surface as it stands in the settings file.</summary>
/// <param name="Port">The name of a port of this machine; <c>rtp:ADDRESS:PORT</c> to invite a partner on the network; <c>rtp</c> to be invited.</param>
/// <param name="Listen">On the network: the lower port on this side.</param>
/// <param name="AcceptFrom">On the network: who may press; the partner where it is left out.</param>
/// <param name="Confirm">The keys that confirm, one a slot.</param>
/// <param name="Decline">The keys that decline, one a slot.</param>
/// <param name="Acknowledge">The key that acknowledges the alarm.</param>
/// <param name="Patch">The keys that ask for a safe patch, by input.</param>
/// <param name="Lamps">What lamps are told.</param>
internal sealed record MidiSurfaceSettings(
    string? Port,
    string? Listen,
    IReadOnlyList<string>? AcceptFrom,
    IReadOnlyList<MidiSurfaceSettings.Key>? Confirm,
    IReadOnlyList<MidiSurfaceSettings.Key>? Decline,
    MidiSurfaceSettings.Key? Acknowledge,
    IReadOnlyDictionary<string, MidiSurfaceSettings.Key>? Patch,
    MidiSurfaceSettings.LampsInFile? Lamps)
{
    private const string Network = "rtp";

    /// <summary>Checks it, and fills in what was left out.</summary>
    /// <exception cref="UsageException">Something is missing or cannot be used.</exception>
    public MidiPlace Checked(string name)
    {
        var keys = Keys(name);
        if (Port is not { Length: > 0 } port)
            throw new UsageException($"surface {name}: \"port\" is the name of a MIDI port, rtp:ADDRESS:PORT, or rtp to be invited.");
        var waits = string.Equals(port, Network, StringComparison.Ordinal);
        if (!waits && !port.StartsWith($"{Network}:", StringComparison.Ordinal))
        {
            return Listen is null && AcceptFrom is null
                ? new(port, null, null, [], keys)
                : throw new UsageException($"surface {name}: \"listen\" and \"acceptFrom\" are for MIDI over the network.");
        }

        var partner = waits ? null : Pair(name, "port", port[(Network.Length + 1)..]);
        if (partner is null && Listen is null)
            throw new UsageException($"surface {name}: to be invited it needs \"listen\", the lower port on this side.");
        var listen = Listen is null ? null : Pair(name, "listen", Listen);
        return new(null, partner, listen, SurfaceSettings.Accepted(name, AcceptFrom, partner is null ? listen : null, partner?.Address), keys);
    }

    // A session has two ports side by side.
    private static IPEndPoint Pair(string name, string key, string text) => SurfaceSettings.PlaceOf(name, key, text) is { Port: < IPEndPoint.MaxPort } place
        ? place
        : throw new UsageException($"surface {name}: the port in \"{key}\" is the lower of two.");

    private MidiKeys Keys(string name)
    {
        if ((Confirm?.Count ?? 0) > SurfaceOptions.MostSlots || (Decline?.Count ?? 0) > (Confirm?.Count ?? 0))
            throw new UsageException($"surface {name}: at most {SurfaceOptions.MostSlots} keys confirm, and no more decline than confirm.");
        var places = (Confirm ?? []).Select((key, index) => (key, new Press(PressKind.Confirm, index + 1)))
            .Concat((Decline ?? []).Select((key, index) => (key, new Press(PressKind.Decline, index + 1))))
            .Concat(Acknowledge is { } one ? [(one, new Press(PressKind.Acknowledge, 0))] : [])
            .Concat((Patch ?? ImmutableDictionary<string, Key>.Empty).Select(pair => (pair.Value, new Press(PressKind.Patch, Input(name, pair.Key)))))
            .ToList();
        if (places.Count == 0)
            throw new UsageException($"surface {name}: no key does anything.");
        var presses = new Dictionary<MidiKey, Press>();
        var lamps = new Dictionary<Press, MidiKey>();
        foreach (var (key, press) in places)
        {
            var pressed = key.Checked(name);
            if (!presses.TryAdd(pressed, press))
                throw new UsageException($"surface {name}: one key is given two meanings.");
            var lamp = key.Lamp?.Checked(name) ?? pressed;
            if (!lamps.TryAdd(press, lamp) || lamps.Count(shown => shown.Value == lamp) > 1)
                throw new UsageException($"surface {name}: one lamp would show two things.");
        }

        return new(presses, lamps, (Lamps ?? new(null, null, null, null)).Checked(name));
    }

    private static int Input(string name, string text) => int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var input) && input > 0
        ? input
        : throw new UsageException($"surface {name}: \"patch\" names inputs by their number, from 1.");

    /// <summary>A key, and the lamp that shows how things stand there.</summary>
    /// <param name="Channel">1 to 16; 1 where it is left out.</param>
    /// <param name="Note">The note, 0 to 127.</param>
    /// <param name="Controller">The controller, 0 to 119.</param>
    /// <param name="Lamp">Its lamp; the key's own note or controller where it is left out.</param>
    internal sealed record Key(int? Channel, int? Note, int? Controller, Key? Lamp)
    {
        /// <summary>Checks it.</summary>
        /// <exception cref="UsageException">It is no key.</exception>
        public MidiKey Checked(string name)
        {
            if (Lamp is { Lamp: not null })
                throw new UsageException($"surface {name}: a lamp has no lamp.");
            return (Channel ?? 1, Note, Controller) switch
            {
                ( >= 1 and <= 16 and var channel, >= 0 and <= 127 and { } note, null) => new(IsNote: true, channel, note),
                ( >= 1 and <= 16 and var channel, null, >= 0 and <= MidiKey.LastController and { } controller) => new(IsNote: false, channel, controller),
                _ => throw new UsageException($"surface {name}: a key or lamp has a \"note\" (0 to 127) or a \"controller\" (0 to {MidiKey.LastController}), and a \"channel\" (1 to 16)."),
            };
        }
    }

    /// <summary>What lamps are told.</summary>
    /// <param name="Off">Nothing is there; 0 where it is left out.</param>
    /// <param name="Wait">It has just changed; 1.</param>
    /// <param name="Ready">A press is taken; 127.</param>
    /// <param name="Page">It is answered on the page; 64.</param>
    internal sealed record LampsInFile(int? Off, int? Wait, int? Ready, int? Page)
    {
        /// <summary>Checks it, and fills in what was left out.</summary>
        /// <exception cref="UsageException">A value is none, or one looks like another that means more.</exception>
        public LampValues Checked(string name)
        {
            var values = new LampValues(Off ?? 0, Wait ?? 1, Ready ?? 127, Page ?? 64);
            if (values is not { Off: >= 0 and <= 127, Wait: >= 0 and <= 127, Ready: >= 0 and <= 127, Page: >= 0 and <= 127 })
                throw new UsageException($"surface {name}: a lamp is told a number from 0 to 127.");
            // A slot that changes has to be seen to change.
            if (values.Ready == values.Off || values.Ready == values.Wait || values.Ready == values.Page)
                throw new UsageException($"surface {name}: a lamp that is \"ready\" has to look like no other.");
            return values;
        }
    }
}
