namespace TrimAssist.Core.Acts;

/// <summary>What an input is for.</summary>
public enum SourceRole
{
    /// <summary>A person plays or sings: holds back in the check, and teaches how much.</summary>
    Performer,

    /// <summary>Music from a machine: as loud in the show as in the check.</summary>
    Playback,

    /// <summary>Somebody speaks to the stage.</summary>
    Talkback,

    /// <summary>The metronome in the players' ears.</summary>
    Click,

    /// <summary>A clock for other machines.</summary>
    Timecode,

    /// <summary>The audience's microphones.</summary>
    Audience,

    /// <summary>Plugged in case another fails.</summary>
    Spare,
}

/// <summary>What follows from a role.</summary>
public static class RoleRules
{
    /// <summary>Whether something is added for what is held back in the check.</summary>
    public static bool HoldsBack(SourceRole role) => role is not (SourceRole.Playback or SourceRole.Click or SourceRole.Timecode);

    /// <summary>Whether a check may propose a trim.</summary>
    public static bool GetsTrim(SourceRole role) => role is not (SourceRole.Talkback or SourceRole.Audience or SourceRole.Spare);

    /// <summary>Whether its shows say something about what players hold back.</summary>
    public static bool Teaches(SourceRole role) => role == SourceRole.Performer;
}
