using System.IO.Compression;
using System.Text.Json;

namespace TrimAssist.Service.Tests.Measure;

/// <summary>One labelled act of tests/corpus: what was true of it.</summary>
internal sealed record LabelledAct(
    int Act, double TargetDbfs, double FsDbu, IReadOnlyList<LabelledChannel> Channels, IReadOnlyDictionary<string, LabelledTake> Takes)
{
    private static readonly JsonSerializerOptions SnakeCase = new() { PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower };

    /// <summary>Every act of the corpus.</summary>
    public static IEnumerable<LabelledAct> All() => Directory.EnumerateFiles(Corpus, "act*_truth.json.gz").Order(StringComparer.Ordinal).Select(Read);

    /// <summary>Unpacks one take's log into a file of its own.</summary>
    public void Unpack(string take, int frameMs, string path)
    {
        using var packed = new GZipStream(File.OpenRead(Path.Combine(Corpus, $"act{Act:00}_{take}.meters{frameMs}.csv.gz")), CompressionMode.Decompress);
        using var file = File.Create(path);
        packed.CopyTo(file);
    }

    private static string Corpus
    {
        get
        {
            for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            {
                if (Path.Combine(folder.FullName, "tests", "corpus") is var corpus && Directory.Exists(corpus))
                    return corpus;
            }

            throw new DirectoryNotFoundException("tests/corpus lies in no folder above the tests");
        }
    }

    private static LabelledAct Read(string path)
    {
        using var packed = new GZipStream(File.OpenRead(path), CompressionMode.Decompress);
        return JsonSerializer.Deserialize<LabelledAct>(packed, SnakeCase)!;
    }
}

/// <summary>What was true of one input.</summary>
internal sealed record LabelledChannel(int Ch, double ShowPeakDbu, double CheckTrimDb, double PadDb);

/// <summary>What happened in one take.</summary>
internal sealed record LabelledTake(double DurationS, IReadOnlyList<LabelledEvent> Events);

/// <summary>One thing that happened.</summary>
internal sealed record LabelledEvent(int Ch, string Kind, string Class, double T, double TEnd, double PeakDbfs, bool Masked)
{
    public bool IsDanger => Class == "alert" && !Masked;

    public bool IsDrop => Class == "drop" && !Masked;

    public bool Holds(double timeS, double afterS) => timeS >= T - 0.1 && timeS <= TEnd + afterS;
}
