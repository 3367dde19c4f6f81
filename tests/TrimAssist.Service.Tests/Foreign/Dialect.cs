using System.Globalization;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.Service.Tests.Foreign;

/// <summary>How one scripted desk speaks. Trims are told by input, or by socket where the desk speaks of sockets.</summary>
internal sealed record Dialect
{
    /// <summary>The desk's id, and the first part of its addresses.</summary>
    public required string Id { get; init; }

    /// <summary>The profile after <c>[connection]</c>.</summary>
    public required string Profile { get; init; }

    /// <summary>The framing over TCP; <see langword="null"/> over UDP.</summary>
    public string? Framing { get; init; }

    /// <summary>Whether meters go to a port of the service's that the profile names.</summary>
    public bool ListensApart { get; init; }

    /// <summary>The length of a meter frame.</summary>
    public double FrameS { get; init; } = 0.05;

    /// <summary>The messages of one meter frame.</summary>
    public required Func<Levels, IEnumerable<OscMessage>> Meters { get; init; }

    /// <summary>Whether a frame travels as one bundle with a time tag.</summary>
    public bool Bundles { get; init; }

    /// <summary>The trim that a message sets; <see langword="null"/> for other messages.</summary>
    public required Func<OscMessage, (int Number, double Db)?> Set { get; init; }

    /// <summary>Whose trim a message asks for; <see langword="null"/> for other messages.</summary>
    public required Func<OscMessage, int?> Ask { get; init; }

    /// <summary>How the desk tells a trim.</summary>
    public required Func<int, double, OscMessage> Tell { get; init; }

    /// <summary>Whether the desk repeats what it took, and says when a hand turned a knob.</summary>
    public bool Pushes { get; init; } = true;

    /// <summary>Whether the desk tells every trim to whoever enrols.</summary>
    public bool TellsAllOnEnrolling { get; init; }

    /// <summary>What the desk answers to anything else; <see langword="null"/> for nothing.</summary>
    public Func<DeskState, OscMessage, OscMessage?> Other { get; init; } = static (_, _) => null;

    /// <summary>The number in an address between two words; <see langword="null"/> where it is another address.</summary>
    public static int? Number(OscMessage message, string before, string after = "") =>
        message.Address.StartsWith(before, StringComparison.Ordinal) && message.Address.EndsWith(after, StringComparison.Ordinal)
        && int.TryParse(message.Address.AsSpan(before.Length, message.Address.Length - before.Length - after.Length), NumberStyles.None, CultureInfo.InvariantCulture, out var number)
            ? number
            : null;

    /// <inheritdoc/>
    public override string ToString() => Id;
}

/// <summary>The levels of one frame.</summary>
internal sealed record Levels(DeskState Desk, double TimeS)
{
    public IEnumerable<int> Inputs { get; } = Enumerable.Range(1, DeskState.Inputs);

    public double Peak(int input) => Desk.PeakDbfs(input, TimeS);

    public double Rms(int input) => Desk.RmsDbfs(input, TimeS);

    public static double Amplitude(double dbfs) => Math.Pow(10, dbfs / 20);
}
