namespace TrimAssist.Desk.Profiles.Toml;

/// <summary>One thing that is wrong in a profile, where it stands.</summary>
/// <param name="File">The profile's file name as it was given.</param>
/// <param name="Line">Line, from 1.</param>
/// <param name="Column">Column, from 1.</param>
/// <param name="Key">The key with its tables, such as <c>controls.trim.step_db</c>; empty where the text is no TOML at all.</param>
/// <param name="Message">One sentence for the person who wrote the profile.</param>
public sealed record ProfileError(string File, int Line, int Column, string Key, string Message)
{
    /// <inheritdoc/>
    public override string ToString() =>
        Key.Length == 0 ? $"{File}:{Line}:{Column}: {Message}" : $"{File}:{Line}:{Column}: {Key}: {Message}";
}
