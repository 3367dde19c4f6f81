namespace TrimAssist.Service.Replay;

/// <summary>The words of a link recording: a text file, one packet a line. docs/recording.md describes it for everybody.</summary>
internal static class RecordingFormat
{
    /// <summary>The first line.</summary>
    public const string FirstLine = "trimassist link recording 1";

    /// <summary>Before the time at which the recording began, ISO 8601 in UTC.</summary>
    public const string Began = "began ";

    /// <summary>Before the id of a desk; its profile follows.</summary>
    public const string Desk = "desk ";

    /// <summary>Before each line of a profile.</summary>
    public const string ProfileLine = "| ";

    /// <summary>Before a remark.</summary>
    public const char Remark = '#';

    /// <summary>A packet that the desk sent.</summary>
    public const string FromDesk = "<";

    /// <summary>A packet that was sent to the desk.</summary>
    public const string ToDesk = ">";
}
