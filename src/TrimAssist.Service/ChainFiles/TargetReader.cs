using TrimAssist.Core.Units;
using TrimAssist.Desk.Profiles.Toml;

namespace TrimAssist.Service.ChainFiles;

/// <summary>The peak wanted at the end of a chain.</summary>
/// <param name="Level">The peak.</param>
/// <param name="FullScale">Digital full scale; <see langword="null"/> where the chain ends analogue.</param>
/// <param name="IsDbfs">Whether the file gives it in dBFS.</param>
internal sealed record ChainTarget(Dbu Level, Dbu? FullScale, bool IsDbfs);

/// <summary>Reads <c>target_dbu</c>, or <c>target_dbfs</c> with <c>full_scale_dbu</c>.</summary>
internal static class TargetReader
{
    /// <summary>Reads the target; <see langword="null"/> where the file does not give exactly one.</summary>
    public static ChainTarget? Read(TableReader root)
    {
        var dbu = ChainFileReader.Level(root, "target_dbu");
        var dbfs = root.Number("target_dbfs", -100, 0);
        var fullScale = ChainFileReader.Level(root, "full_scale_dbu");
        switch (root.Has("target_dbu"), root.Has("target_dbfs"))
        {
            case (true, true):
                root.Problems.Error(root.Node("target_dbfs")!, "give the target in dBu or in dBFS, not both");
                return null;
            case (false, false):
                root.Required("target_dbu", "the peak wanted at the last stage's output in dBu (or target_dbfs with full_scale_dbu)");
                return null;
            case (false, true) when !root.Has("full_scale_dbu"):
                root.Required("full_scale_dbu", "the level in dBu that makes 0 dBFS, since the target is given in dBFS");
                return null;
            case (true, false):
                return dbu is { } level ? new ChainTarget(level, fullScale, IsDbfs: false) : null;
            default:
                return fullScale is { } full && dbfs is { } below ? new ChainTarget(full + new Decibels(below), full, IsDbfs: true) : null;
        }
    }
}
