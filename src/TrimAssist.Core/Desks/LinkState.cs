namespace TrimAssist.Core.Desks;

/// <summary>How the link to a desk stands.</summary>
public enum LinkState
{
    /// <summary>Nothing has been heard yet.</summary>
    Connecting,

    /// <summary>Meters arrive.</summary>
    Live,

    /// <summary>Meters have stopped for half a second or more.</summary>
    Stale,

    /// <summary>Nothing has been heard for five seconds or more.</summary>
    Lost,
}
