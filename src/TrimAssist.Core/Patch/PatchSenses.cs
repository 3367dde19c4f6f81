using TrimAssist.Core.Desks;

namespace TrimAssist.Core.Patch;

/// <summary>What a safe patch has to know of an input.</summary>
/// <param name="Settings">What the desk last said.</param>
/// <param name="MuteHeardAgo">How long ago the desk told the state of the input's own mute, asked or unasked; <see langword="null"/> where it never did.</param>
/// <param name="Levels">What was heard of it so far.</param>
public sealed record PatchSenses(Func<int, InputSettings> Settings, Func<int, TimeSpan?> MuteHeardAgo, Func<int, PatchLevels?> Levels);
