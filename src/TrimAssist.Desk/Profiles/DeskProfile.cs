using TrimAssist.Core.Desks;

namespace TrimAssist.Desk.Profiles;

/// <summary>A validated desk profile: everything needed to talk to one desk. Immutable.</summary>
public sealed record DeskProfile
{
    /// <summary>The desk's id, as in URLs: a-z, 0-9 and -.</summary>
    public required string Id { get; init; }

    /// <summary>The desk's name.</summary>
    public required string Name { get; init; }

    /// <summary>Number of inputs, 1 to 1024.</summary>
    public required int Inputs { get; init; }

    /// <summary>Where the desk is.</summary>
    public required ConnectionProfile Connection { get; init; }

    /// <summary>What keeps it sending.</summary>
    public required IReadOnlyList<SubscriptionProfile> Subscriptions { get; init; }

    /// <summary>Its meter sources, at least one.</summary>
    public required IReadOnlyList<MeterProfile> Meters { get; init; }

    /// <summary>Its overload flags.</summary>
    public required IReadOnlyList<MeterProfile> Overloads { get; init; }

    /// <summary>Its controls, each kind at most once.</summary>
    public required IReadOnlyList<ControlProfile> Controls { get; init; }

    /// <summary>Pairs that the profile itself says are linked.</summary>
    public IReadOnlyList<(int First, int Second)> FixedPairs { get; init; } = [];

    /// <summary>Whether the link control answers with a flag for 1+2, 3+4 and so on, rather than with the partner's number.</summary>
    public bool LinkIsFlag { get; init; }

    /// <summary>What the domain may know of it.</summary>
    public required DeskDescription Description { get; init; }

    /// <summary>The text that it was read from, so that a record of the link can be understood elsewhere.</summary>
    public string SourceText { get; init; } = string.Empty;

    /// <summary>A control; <see langword="null"/> where the profile has none of the kind.</summary>
    public ControlProfile? Control(ControlKind kind) => Controls.FirstOrDefault(c => c.Kind == kind);
}
