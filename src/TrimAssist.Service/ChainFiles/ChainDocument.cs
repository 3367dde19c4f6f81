using System.Text.Json.Serialization;
using TrimAssist.Core.Chain;
using TrimAssist.Core.Units;

namespace TrimAssist.Service.ChainFiles;

/// <summary>The JSON that <c>chain</c> prints. What is not known is <see langword="null"/>.</summary>
internal sealed record ChainDocument
{
    public required string File { get; init; }

    /// <summary><c>infeasible</c> where no setting fits; absent otherwise.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public string? Code { get; init; }

    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public IReadOnlyList<LimitDocument>? Limits { get; init; }

    public IReadOnlyList<StageDocument> Stages { get; init; } = [];

    public required RatioDocument SnrDb { get; init; }

    public string? ClipsFirst { get; init; }

    public ClipDocument? Clips { get; init; }

    public required IReadOnlyList<string> Advice { get; init; }

    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public IReadOnlyList<OrderDocument>? Orders { get; init; }

    /// <summary>Writes an answer down.</summary>
    public static ChainDocument Of(string name, ChainFile file, ChainAnswer answer, IReadOnlyList<SwappedOrder>? orders)
    {
        var chain = file.Chain!;
        var now = Rounded(answer.Today?.SignalToNoise);
        var swapped = orders?.Select(OrderDocument.Of).ToArray();
        return answer switch
        {
            ChainPlan plan => new ChainDocument
            {
                File = name,
                Stages = [.. chain.Stages.Select((stage, index) => StageDocument.Of(stage, plan.Settings[index], plan.Levels.Stages[index]))],
                SnrDb = new(now, Rounded(plan.Levels.SignalToNoise)),
                ClipsFirst = plan.ClipsFirst is { } first ? chain.Stages[first.Stage].Name : null,
                Clips = plan.ClipsFirst is { } clip ? new(chain.Stages[clip.Stage].Name, clip.AtInput ? "input" : "output", Rounded(clip.Margin.Value)) : null,
                Advice = plan.Advice,
                Orders = swapped,
            },
            ChainInfeasible infeasible => new ChainDocument
            {
                File = name,
                Code = "infeasible",
                Limits = [.. infeasible.Collision.Limits.Select(limit => LimitDocument.Of(limit, file))],
                SnrDb = new(now, null),
                Advice = infeasible.Advice,
                Orders = swapped,
            },
            _ => throw new InvalidOperationException("An answer is a plan or a collision."),
        };
    }

    internal static double Rounded(double value) => Math.Round(value, 3) + 0.0;

    internal static double? Rounded(Decibels? value) => value is { } known ? Rounded(known.Value) : null;
}

/// <summary>One stage at its best setting.</summary>
internal sealed record StageDocument(
    string Name, double GainDb, bool? PadOn, double? NowDb, double PeakInDbu, double PeakOutDbu, double? HeadroomDb, double? NoiseOutDbu)
{
    public static StageDocument Of(ChainStage stage, StageSetting setting, StageLevels levels) => new(
        stage.Name,
        ChainDocument.Rounded(setting.Gain.Value),
        stage.Pad is null ? null : setting.PadIn,
        ChainDocument.Rounded(stage.Now),
        ChainDocument.Rounded(levels.PeakIn.Value),
        ChainDocument.Rounded(levels.PeakOut.Value),
        ChainDocument.Rounded(levels.Headroom),
        levels.NoiseOut is { } noise ? ChainDocument.Rounded(noise.Value) : null);
}

/// <summary>The signal-to-noise ratio at today's settings and at the best ones.</summary>
internal sealed record RatioDocument(double? Now, double? Best);

/// <summary>Where the chain clips first, and by how much the source may grow until then.</summary>
internal sealed record ClipDocument(string Stage, string At, double MarginDb);

/// <summary>One of the figures that cannot hold together, by the key of the file.</summary>
internal sealed record LimitDocument(string? Stage, string Key, double Value)
{
    public static LimitDocument Of(ChainLimit limit, ChainFile file) =>
        limit.Figure == ChainFigure.Target && file.TargetIsDbfs
            ? new(null, "target_dbfs", ChainDocument.Rounded((file.Chain!.Target - file.Chain.FullScale!.Value).Value))
            : new(limit.Stage, KeyOf(limit.Figure), ChainDocument.Rounded(limit.Value));

    private static string KeyOf(ChainFigure figure) => figure switch
    {
        ChainFigure.Source => "source_dbu",
        ChainFigure.Target => "target_dbu",
        ChainFigure.Headroom => "headroom_db",
        ChainFigure.MaxIn => "max_in_dbu",
        ChainFigure.MaxOut => "max_out_dbu",
        ChainFigure.MinGain or ChainFigure.MaxGain => "gain_db",
        _ => "pad_db",
    };
}

/// <summary>What the chain could do with two neighbours swapped; without a ratio where nothing would fit or nothing makes noise.</summary>
internal sealed record OrderDocument(IReadOnlyList<string> Swap, bool Fits, double? SnrDb)
{
    public static OrderDocument Of(SwappedOrder order) => new(
        [order.First, order.Second], order.Answer is ChainPlan, ChainDocument.Rounded((order.Answer as ChainPlan)?.Levels.SignalToNoise));
}

[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase, WriteIndented = true)]
[JsonSerializable(typeof(ChainDocument))]
internal sealed partial class ChainJson : JsonSerializerContext;
