using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;

namespace TrimAssist.Core.Gate;

/// <summary>
/// How far a band may raise each input by itself in one session: so much over the gain at which the session found it, whatever was turned in between.
/// One owner: the desk's loop.
/// </summary>
/// <param name="desk">The desk.</param>
/// <param name="mostDb">The most in dB, from 0 to <see cref="MostDb"/>.</param>
public sealed class RiseCeiling(DeskDescription desk, double mostDb)
{
    /// <summary>No session goes further, our choice: what a band turns up in small steps adds up to four times as loud to the ear at the most.</summary>
    public const double MostDb = 12;

    private readonly Dictionary<int, double> _began = [];

    /// <summary>Takes in what the desk says: the first word about an input's whole gain is where the session found it.</summary>
    public void Hear(InputSettings now)
    {
        if (GainDb(now) is { } gain)
            _began.TryAdd(now.Input, gain);
    }

    /// <summary>A session begins: what stands now is where it found the desk.</summary>
    public void Begin(Func<int, InputSettings> settings)
    {
        ArgumentNullException.ThrowIfNull(settings);
        _began.Clear();
        for (var input = 1; input <= desk.Inputs; input++)
            Hear(settings(input));
    }

    /// <summary>How much further an input may be raised, in dB; <see langword="null"/> where its gain is not known, now or when the session began.</summary>
    public double? LeftDb(InputSettings now) =>
        GainDb(now) is { } gain && _began.TryGetValue(now.Input, out var began) ? Math.Max(0, began + Math.Min(mostDb, MostDb) - gain) : null;

    /// <summary>Whether a change stays under it.</summary>
    public bool Allows(Proposal proposal, Func<int, InputSettings> settings) =>
        Dangers.RiseDb(proposal.Kind, proposal.From, proposal.To, desk) is var rise && (rise <= 0 || proposal.Inputs.All(input => rise <= LeftDb(settings(input)) + PlannedStep.SlackDb));

    // A pad that nobody has told of may stand either way.
    private double? GainDb(InputSettings now) => desk.Pad is not null && now.PadOn is null ? null : desk.GainDb(now);
}
