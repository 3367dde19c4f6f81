namespace TrimAssist.Service.Tests.Foreign;

/// <summary>How one scripted MIDI desk speaks.</summary>
internal sealed record MidiDialect
{
    /// <summary>The desk's id.</summary>
    public required string Id { get; init; }

    /// <summary>The profile after <c>[connection]</c>.</summary>
    public required string Profile { get; init; }

    /// <summary>The messages of one meter frame.</summary>
    public required Func<Levels, IEnumerable<byte[]>> Meters { get; init; }

    /// <summary>Makes something that finds in the messages heard, one after another, the trim that they set.</summary>
    public required Func<Func<byte[], (int Number, double Db)?>> Set { get; init; }

    /// <summary>Whose trim a message asks for; <see langword="null"/> for other messages.</summary>
    public Func<byte[], int?> Ask { get; init; } = static _ => null;

    /// <summary>How the desk tells a trim.</summary>
    public required Func<int, double, IEnumerable<byte[]>> Tell { get; init; }

    /// <summary>Whether the desk repeats what it took, and says when a hand turned a knob.</summary>
    public bool Pushes { get; init; } = true;

    /// <summary>Whether the desk tells every trim to whoever begins a session.</summary>
    public bool TellsAllAtFirst { get; init; }
}
