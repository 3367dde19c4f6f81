using CsCheck;
using TrimAssist.Core.Chain;
using TrimAssist.Core.Units;
using Xunit;

namespace TrimAssist.Core.Tests.Chain;

/// <summary>Random chains: nothing beats the planner, and what it says is kept.</summary>
public sealed class ChainProperties
{
    /// <summary>Ratios this near count as equal; the nearer end wins then.</summary>
    private const double SameDb = 0.005;

    private static readonly Gen<double> Steps = Gen.OneOf(0.1, 0.3, 0.5, 1, 1.5, 2.5, 3, 7);

    private static readonly Gen<Dbu?> Limit = Gen.Select(Gen.Bool, Gen.Int[-100, 300]).Select((known, tenths) => known ? new Dbu(tenths / 10.0) : (Dbu?)null);

    private static readonly Gen<StageNoise?> Noise = Gen.Select(Gen.Int[0, 2], Gen.Int[-1300, -500]).Select((kind, tenths) => kind switch
    {
        0 => (StageNoise?)null,
        1 => StageNoise.AtOutput(new(tenths / 10.0)),
        _ => StageNoise.AtInput(new(tenths / 10.0)),
    });

    private static readonly Gen<ChainStage> Stage =
        Gen.Select(Gen.Select(Gen.Int[-200, 100], Gen.Int[0, 7], Steps), Gen.OneOf<double?>(null, null, 5, 12.3, 20), Limit, Limit, Noise)
            .Select((gain, pad, maxIn, maxOut, noise) => new ChainStage
            {
                Name = "stage",
                MinGain = new(gain.Item1 / 10.0),
                MaxGain = new(gain.Item1 / 10.0 + gain.Item2 * gain.Item3 + (gain.Item2 > 0 ? 0.04 : 0)),
                Step = new(gain.Item3),
                Pad = pad is { } loss ? new Decibels(loss) : null,
                MaxIn = maxIn,
                MaxOut = maxOut,
                Noise = noise,
            });

    private static readonly Gen<SignalChain> AnyChain =
        Gen.Select(Gen.Int[-400, 100], Gen.Int[-200, 300], Gen.OneOf(0.0, 3, 6.5), Gen.Select(Gen.Bool, Gen.Int[-1300, -600]), Stage.Array[1, 4])
            .Select((source, rise, headroom, noise, stages) => new SignalChain
            {
                Source = new(source / 10.0),
                SourceNoise = noise.Item1 ? new Dbu(noise.Item2 / 10.0) : null,
                Target = new((source + rise) / 10.0),
                Headroom = new(headroom),
                Stages = stages,
            });

    [Fact]
    public void No_setting_that_keeps_the_limits_is_quieter_than_the_plan() => AnyChain.Sample(
        chain =>
        {
            var all = BruteForce.Over(chain);
            if (ChainPlanner.Plan(chain) is not ChainPlan plan)
            {
                Assert.Null(all.BestNear);
                return;
            }

            Assert.True(BruteForce.Keeps(chain, plan.Settings));
            var ratio = plan.Levels.SignalToNoise?.Value ?? double.PositiveInfinity;
            if (all.BestNear is { } near)
                Assert.True(ratio >= near - SameDb - 1e-6);
            else
                Assert.Equal(all.NearestEnd!.Value, plan.Levels.Stages[^1].PeakOut.Value, 1e-6);
        },
        iter: 5000);

    [Fact]
    public void Every_setting_of_a_plan_is_one_that_the_control_has() => AnyChain.Sample(
        chain =>
        {
            if (ChainPlanner.Plan(chain) is not ChainPlan plan)
                return;
            foreach (var (stage, setting) in chain.Stages.Zip(plan.Settings))
            {
                var steps = (setting.Gain - stage.MinGain).Value / stage.Step.Value;
                Assert.True(setting.Gain >= stage.MinGain && setting.Gain <= stage.MaxGain && Math.Abs(steps - Math.Round(steps)) < 1e-6);
                Assert.True(stage.Pad is not null || !setting.PadIn);
            }
        },
        iter: 2000);

    [Fact]
    public void Stepless_controls_are_never_worse_and_fit_exactly_where_nothing_collides() => AnyChain.Sample(
        chain =>
        {
            var steps = new ChainSteps(chain);
            var exact = PadChoices.Of(steps.Stages).Any(pads => SteplessOptimum.Under(steps, pads)?.Reached == steps.Target);
            Assert.Equal(new CollisionFinder(steps).Find() is null, exact);
            if (SteplessOptimum.Of(steps) is not { } stepless)
                return;
            Assert.True(BruteForce.Keeps(chain, stepless));
            if (ChainPlanner.Plan(chain) is ChainPlan plan && steps.IsNearTarget((long)Math.Round((plan.Levels.Stages[^1].PeakOut - chain.Source).Value * ChainSteps.PerDecibel)))
                Assert.True((ChainLevels.At(chain, stepless).SignalToNoise?.Value ?? 0) >= (plan.Levels.SignalToNoise?.Value ?? 0) - 1e-9);
        },
        iter: 3000);

    [Fact]
    public void The_named_limits_are_enough_to_collide_and_loosening_them_helps() => AnyChain.Sample(
        chain =>
        {
            if (ChainPlanner.Plan(chain) is not ChainInfeasible { Collision: var collision })
                return;
            Assert.True(collision.ExcessDb > 0);
            Assert.NotEmpty(collision.Limits);
            var named = collision.Limits.Where(limit => limit.Stage is null).Select(limit => limit.Figure).ToHashSet();
            Assert.True(named.Contains(ChainFigure.Source) || named.Contains(ChainFigure.Target));
        },
        iter: 2000);
}
