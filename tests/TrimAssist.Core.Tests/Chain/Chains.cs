using TrimAssist.Core.Chain;
using TrimAssist.Core.Units;
using Xunit;

namespace TrimAssist.Core.Tests.Chain;

/// <summary>Short ways to write chains in tests.</summary>
internal static class Chains
{
    public static ChainStage Stage(string name, double min, double max, double step = 1) =>
        new() { Name = name, MinGain = new(min), MaxGain = new(max), Step = new(step) };

    public static ChainStage Hiss(this ChainStage stage, double outputDbu) => stage with { Noise = StageNoise.AtOutput(new(outputDbu)) };

    public static ChainStage Ein(this ChainStage stage, double inputDbu) => stage with { Noise = StageNoise.AtInput(new(inputDbu)) };

    public static ChainStage Limits(this ChainStage stage, double? inDbu = null, double? outDbu = null) => stage with
    {
        MaxIn = inDbu is { } input ? new Dbu(input) : null,
        MaxOut = outDbu is { } output ? new Dbu(output) : null,
    };

    public static ChainStage Padded(this ChainStage stage, double padDb, bool inNow = false) => stage with { Pad = new(padDb), PadInNow = inNow };

    public static ChainStage NowAt(this ChainStage stage, double gainDb) => stage with { Now = new(gainDb) };

    public static SignalChain From(double sourceDbu, double targetDbu, params IReadOnlyList<ChainStage> stages) =>
        new() { Source = new(sourceDbu), Target = new(targetDbu), Headroom = Decibels.Zero, Stages = stages };

    public static ChainPlan Planned(this SignalChain chain) => Assert.IsType<ChainPlan>(ChainPlanner.Plan(chain));

    public static ChainCollision Collision(this SignalChain chain) => Assert.IsType<ChainInfeasible>(ChainPlanner.Plan(chain)).Collision;

    public static double[] Gains(this ChainPlan plan) => [.. plan.Settings.Select(setting => setting.Gain.Value)];
}
