using TrimAssist.Core.Alarms;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Gate;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Patch;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Tests.Gate;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Tests.Patch;

/// <summary>The gate's bench with a room for safe patches; the test says what the desk says, and when.</summary>
internal sealed class PatchBench
{
    private readonly Dictionary<int, TimeSpan> _muteHeard = [];
    private double _meterS;

    public PatchBench(IReadOnlyList<string>? covers = null)
    {
        Gate = new GateBench(covers: covers ?? SafePatch.Paths);
        Alarms = new AlarmBoard("bench", Guid.NewGuid, static _ => { });
        Room = new PatchRoom(
            Gate.Desk,
            Gate.Proposals,
            Gate.Book,
            Alarms,
            new PatchSenses(Gate.Settings, input => _muteHeard.TryGetValue(input, out var at) ? Gate.Now.Elapsed - at : null, _ => Before),
            Guid.NewGuid,
            Told.Add);
        Say(1, one => one with { Muted = false, PhantomOn = false });
    }

    public GateBench Gate { get; }

    public AlarmBoard Alarms { get; }

    public PatchRoom Room { get; }

    public List<SafePatch> Told { get; } = [];

    public PatchLevels? Before { get; set; } = new(-14, -70, 20);

    public SafePatch Patch => Room.Find(1)!;

    public SafePatch Ask(string? reason = null) => Room.Ask(1, reason, Gate.Link, Gate.Now);

    /// <summary>The desk tells something about an input, its mute among it.</summary>
    public void Say(int input, Func<InputSettings, InputSettings> change)
    {
        Gate.Set(input, change);
        _muteHeard[input] = Gate.Now.Elapsed;
        Look();
    }

    public void Look() => Room.Look(Gate.Link, Gate.Now);

    public void Wait(double seconds)
    {
        Gate.Wait(TimeSpan.FromSeconds(seconds));
        Look();
    }

    /// <summary>The engineer confirms, the desk does it and says so.</summary>
    public void Confirm(Proposal proposal)
    {
        Assert(Gate.Confirm(GateBench.Naming(proposal, [.. proposal.Needs])).Code);
        foreach (var input in proposal.Inputs)
        {
            Gate.Set(input, one => proposal.Kind == ProposalKind.Trim ? one with { Trim = new(proposal.To.Db!.Value) } : one with { Muted = proposal.To.On });
            _muteHeard[input] = Gate.Now.Elapsed;
        }

        Gate.Proposals.Follow(Gate.Gate.Settle(proposal.Id, new(WriteResult.Applied, proposal.To, Saying.Plain("read back"))), Gate.Now);
        Look();
    }

    /// <summary>Two and a half seconds of meters, the desk confirming the mute all the while.</summary>
    public void Sound(Func<double, double> peakDbfs, double seconds = 2.5)
    {
        for (var frame = 0; frame < seconds / 0.05; frame++)
        {
            _meterS += 0.05;
            Gate.Wait(TimeSpan.FromSeconds(0.05));
            var peak = peakDbfs(frame * 0.05);
            Room.Hear(new MeterReading(1, _meterS, (float)peak, (float)(peak - 3)));
            foreach (var input in _muteHeard.Keys.ToList())
                _muteHeard[input] = Gate.Now.Elapsed;
            Look();
        }
    }

    public Proposal Open() => Gate.Book.Open.Single();

    private static void Assert(GateCode code) => Xunit.Assert.Equal(GateCode.Accepted, code);
}
