namespace TrimAssist.Core.Patch;

/// <summary>Where a safe patch stands.</summary>
public enum PatchState
{
    /// <summary>Asked for; the mute is not verified. Nobody may touch the plug.</summary>
    Waiting,

    /// <summary>Every path is closed by the input's own mute, verified within the last second: plug now.</summary>
    Safe,

    /// <summary>The mute is verified, and does not close every path.</summary>
    Partly,

    /// <summary>Plugged: the input is watched until it is quiet or steady, then it is opened again.</summary>
    Settling,

    /// <summary>Over.</summary>
    Done,

    /// <summary>The link, the mute or the engineer's consent is gone: stop, ask.</summary>
    Lost,
}
