using TrimAssist.Fuzz.Targets;

namespace TrimAssist.Fuzz;

/// <summary>The fuzz targets of the wire formats by name.</summary>
public static class FuzzTargets
{
    /// <summary>All names, for the usage line.</summary>
    public static IReadOnlyList<string> Names { get; } = ["osc", "osc-pattern", "slip", "midi", "rtp-midi", "rtp-midi-session"];

    /// <summary>The target of this name; null when there is none.</summary>
    public static FuzzTarget? Find(string name) => name switch
    {
        "osc" => OscTarget.Run,
        "osc-pattern" => OscPatternTarget.Run,
        "slip" => SlipTarget.Run,
        "midi" => MidiTarget.Run,
        "rtp-midi" => RtpMidiTarget.Run,
        "rtp-midi-session" => RtpMidiSessionTarget.Run,
        _ => null,
    };
}
