using TrimAssist.Core.Desks;
using TrimAssist.Desk.Profiles;

namespace TrimAssist.Desk.Link.Settings;

/// <summary>Hears what comes into the book of settings.</summary>
internal interface ISettingsListener
{
    /// <summary>A value was told, changed or not.</summary>
    void OnHeard(ControlKind kind, int input, double now);

    /// <summary>Something about an input changed.</summary>
    /// <param name="kind">The control that was told.</param>
    /// <param name="before">What was known.</param>
    /// <param name="after">What is known now.</param>
    /// <param name="wasKnown">Whether the control had a value before, so that this is a change on the desk and not a first word.</param>
    /// <param name="now">The session's time.</param>
    void OnChanged(ControlKind kind, InputSettings before, InputSettings after, bool wasKnown, double now);
}
