using TrimAssist.Desk.Profiles.Toml;

namespace TrimAssist.Desk.Profiles.Reading;

/// <summary>What came of reading a profile: a profile, or what is wrong with it; never an exception.</summary>
/// <param name="Profile">The validated profile; <see langword="null"/> where there are errors.</param>
/// <param name="Errors">What is wrong, in the file's order.</param>
/// <param name="Notes">What the profile leaves out and what follows from that; no reason to refuse it.</param>
public sealed record ProfileReading(DeskProfile? Profile, IReadOnlyList<ProfileError> Errors, IReadOnlyList<ProfileError> Notes);
