using System.Text;
using TrimAssist.Core.Chain;
using TrimAssist.Core.Units;
using TrimAssist.Desk.Profiles.Toml;

namespace TrimAssist.Service.ChainFiles;

/// <summary>Reads a signal chain from TOML. A wrong file is an answer that names line, column and key.</summary>
internal static class ChainFileReader
{
    private const int LargestFile = 64 * 1024;
    private const int MostStages = 32;

    /// <summary>The lowest and the highest level that a file may give, in dBu.</summary>
    private const double LowestLevel = -200;
    private const double HighestLevel = 80;

    /// <summary>Reads a file; one that cannot be read is an error at line 1.</summary>
    public static ChainFile ReadFile(string path)
    {
        try
        {
            var file = new FileInfo(path);
            return file.Exists && file.Length > LargestFile
                ? ChainFile.Unusable(new ProfileError(path, 1, 1, string.Empty, $"is larger than {LargestFile / 1024} KiB: this is no chain"))
                : Read(new UTF8Encoding(false, throwOnInvalidBytes: true).GetString(File.ReadAllBytes(path)), path);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            return ChainFile.Unusable(new ProfileError(path, 1, 1, string.Empty, fault is DecoderFallbackException ? "is not UTF-8 text" : fault.Message));
        }
    }

    /// <summary>Reads the text.</summary>
    /// <param name="text">The TOML text.</param>
    /// <param name="file">The name to put in front of complaints.</param>
    public static ChainFile Read(string text, string file)
    {
        var problems = new ProfileProblems(file, "chain");
        var root = new TableReader(TomlTree.Read(text.TrimStart('\uFEFF'), problems), problems);
        if (problems.HasErrors)
            return ChainFile.Unusable(problems.Errors);

        var source = RequiredLevel(root, "source_dbu", "the source's loudest peak in dBu");
        var sourceNoise = Level(root, "source_noise_dbu");
        var target = TargetReader.Read(root);
        var headroom = root.Number("headroom_db", 0, 60) ?? 0;
        var compare = root.Flag("compare_order") ?? false;
        var stages = Stages(root);
        root.RefuseUnknown();
        if (problems.HasErrors || source is null || target is null)
            return ChainFile.Unusable(problems.Errors);

        var chain = new SignalChain
        {
            Source = source.Value,
            SourceNoise = sourceNoise,
            Target = target.Level,
            FullScale = target.FullScale,
            Headroom = new Decibels(headroom),
            Stages = stages,
        };
        return ChainPlanner.TooMuch(chain) is { } reason
            ? ChainFile.Unusable(new ProfileError(file, 1, 1, "stage", reason))
            : new ChainFile(chain, [], compare, target.IsDbfs);
    }

    /// <summary>A level in dBu, where the file gives one.</summary>
    internal static Dbu? Level(TableReader table, string key) => table.Number(key, LowestLevel, HighestLevel) is { } level ? new Dbu(level) : null;

    private static Dbu? RequiredLevel(TableReader table, string key, string meaning)
    {
        table.Required(key, meaning);
        return Level(table, key);
    }

    private static List<ChainStage> Stages(TableReader root)
    {
        if (root.Required("stage", "one [[stage]] for each stage, in the order of the signal") is null)
            return [];
        var tables = root.Tables("stage");
        if (tables.Count > MostStages)
            root.Problems.Error(tables[MostStages].Table, $"a chain has at most {MostStages} stages");
        var stages = new List<ChainStage>();
        foreach (var table in tables.Take(MostStages))
        {
            if (StageReader.Read(table) is not { } stage)
                continue;
            if (stages.Exists(one => string.Equals(one.Name, stage.Name, StringComparison.OrdinalIgnoreCase)))
                table.Problems.Error(table.Node("name")!, $"\"{stage.Name}\" is the name of an earlier stage");
            if (stage.IsDeskTrim && stages.Exists(one => one.IsDeskTrim))
                table.Problems.Error(table.Node("desk_trim")!, "an earlier stage is the desk's trim already");
            stages.Add(stage);
        }

        return stages;
    }
}
