using TrimAssist.Core.Desks;

namespace TrimAssist.Core.Proposals;

/// <summary>Which of an input's settings a kind of proposal is about.</summary>
public static class ControlValue
{
    /// <summary>The setting's value; <see langword="null"/> where the desk has not said.</summary>
    public static SettingValue? Of(InputSettings settings, ProposalKind kind) => kind switch
    {
        ProposalKind.Trim => settings.Trim is { } trim ? SettingValue.Gain(trim) : null,
        ProposalKind.Pad => settings.PadOn is { } pad ? SettingValue.Switch(pad) : null,
        ProposalKind.Mute or ProposalKind.Unmute => settings.Muted is { } muted ? SettingValue.Switch(muted) : null,
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "not a kind of proposal"),
    };
}
