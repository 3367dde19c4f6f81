namespace TrimAssist.DemoDesk.Festival;

/// <summary>What is going on on the stage.</summary>
public enum FestivalPhase
{
    /// <summary>The act before is off, this one is plugging in.</summary>
    Changeover,

    /// <summary>Sound check: everybody plays, and holds back.</summary>
    Check,

    /// <summary>The check is over, the show has not begun: time for the engineer.</summary>
    Ready,

    /// <summary>The show.</summary>
    Show,
}

/// <summary>Where the festival stands.</summary>
/// <param name="Act">The act, from 0.</param>
/// <param name="ActName">Its name.</param>
/// <param name="Phase">The phase.</param>
/// <param name="PhaseS">Seconds since the phase began.</param>
/// <param name="Inputs">The act's inputs.</param>
public sealed record FestivalMoment(int Act, string ActName, FestivalPhase Phase, double PhaseS, IReadOnlyList<int> Inputs);
