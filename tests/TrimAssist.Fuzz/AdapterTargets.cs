using TrimAssist.Fuzz.Targets.Adapters;

namespace TrimAssist.Fuzz;

/// <summary>The fuzz targets of whatever else comes from outside, by name: files, and a desk's whole session.</summary>
public static class AdapterTargets
{
    /// <summary>All names, for the usage line.</summary>
    public static IReadOnlyList<string> Names { get; } = ["profile", "sysex-template", "desk-osc", "desk-midi", "recording", "meter-log", "input-list", "chain", "wav", "surface"];

    /// <summary>The target of this name; null when there is none.</summary>
    public static FuzzTarget? Find(string name) => name switch
    {
        "profile" => ProfileTarget.Run,
        "sysex-template" => ExclusiveTemplateTarget.Run,
        "desk-osc" => DeskTarget.RunOsc,
        "desk-midi" => DeskTarget.RunMidi,
        "recording" => RecordingTarget.Run,
        "meter-log" => MeterLogTarget.Run,
        "input-list" => InputListTarget.Run,
        "chain" => ChainTarget.Run,
        "wav" => WavTarget.Run,
        "surface" => SurfaceTarget.Run,
        _ => null,
    };
}
