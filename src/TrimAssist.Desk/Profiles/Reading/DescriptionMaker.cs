using TrimAssist.Core.Desks;
using TrimAssist.Core.Meters;
using TrimAssist.Desk.Profiles.Toml;

namespace TrimAssist.Desk.Profiles.Reading;

/// <summary>Draws from a profile what the domain may know.</summary>
internal static class DescriptionMaker
{
    public static DeskDescription Make(string id, string name, int inputs, IReadOnlyList<MeterProfile> meters, ControlSet set, TableReader root)
    {
        var (controls, facts) = (set.Controls, set.Facts);
        var trim = controls.Find(c => c.Kind == ControlKind.Trim);
        var hasPad = controls.Exists(c => c is { Kind: ControlKind.Pad, Writable: true });
        var traits = Combine(meters, root);
        return new()
        {
            Id = id,
            Name = name,
            Inputs = inputs,
            Meter = traits,
            Trim = trim is { Writable: true, Scale: { } scale }
                ? new(scale.MinDb, scale.MaxDb, facts.StepDb, trim.ToleranceDb, facts.TrimIsDigital, facts.TrimSharedWith)
                : null,
            Pad = hasPad ? new(facts.PadDb!.Value, facts.PadSharedWith) : null,
            Mute = controls.Exists(c => c.Kind == ControlKind.Mute) ? new(facts.MuteCovers) : null,
            FaderReadable = controls.Exists(c => c.Kind == ControlKind.Fader),
        };
    }

    // Several sources are heard as one: it is only as good as the worst of them, and as fast as the fastest.
    private static MeterTraits Combine(IReadOnlyList<MeterProfile> meters, TableReader root)
    {
        var fastest = meters.MinBy(m => m.Traits.FrameS)!.Traits;
        var peak = meters.FirstOrDefault(m => m.Quantity == MeterQuantity.Peak)?.Traits ?? fastest;
        var tap = meters.Any(m => m.Traits.Tap == MeterTap.Unknown) ? MeterTap.Unknown : meters.Max(m => m.Traits.Tap);
        bool? follows = meters.Any(m => m.Traits.FollowsMute is null) ? null : meters.Any(m => m.Traits.FollowsMute is true);
        var traits = new MeterTraits(fastest.FrameS, peak.ReleaseDbPerS, tap, follows);
        if (!traits.GoodForTrims)
        {
            var why = tap == MeterTap.Unknown ? "tap is absent" : follows is null ? "follows_mute is absent" : "the meters are tapped after processing or the fader";
            root.Problems.Note(root.Table.Entries["meters"].Value, string.Empty, $"{why}: good for warnings, never for trims");
        }

        return traits;
    }
}
