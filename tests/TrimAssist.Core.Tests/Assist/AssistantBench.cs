using TrimAssist.Core.Acts;
using TrimAssist.Core.Alarms;
using TrimAssist.Core.Assist;
using TrimAssist.Core.Checks;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Gate;
using TrimAssist.Core.Patch;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Tests.Gate;
using TrimAssist.Core.Time;
using TrimAssist.Core.Units;
using TrimAssist.Core.Wording;
using Xunit;

namespace TrimAssist.Core.Tests.Assist;

/// <summary>A desk's assistant whose desk a test moves.</summary>
internal sealed class AssistantBench : IAssistantEvents
{
    private readonly Dictionary<int, InputSettings> _settings;
    private TimeSpan _elapsed;

    public AssistantBench(RehearsalOptions? room = null)
    {
        var desk = GateBench.Describe([]);
        _settings = Enumerable.Range(1, desk.Inputs).ToDictionary(input => input, input => new InputSettings
        {
            Input = input,
            Trim = new Decibels(20),
            PadOn = false,
            Muted = true,
            FaderDb = 0,
        });
        Assistant = new DeskAssistant(desk, AssistOptions.Default with { Rehearsal = room }, input => _settings[input], _ => TimeSpan.Zero, Guid.NewGuid, this);
        Assistant.OnLink(LinkState.Live, Saying.Plain("Meters arrive."), Now);
    }

    public DeskAssistant Assistant { get; }

    public List<Alarm> Alarms { get; } = [];

    public List<(IReadOnlyList<ShowInput> Inputs, bool IsOver)> Shows { get; } = [];

    public Moment Now => new(_elapsed, DateTimeOffset.UnixEpoch + _elapsed);

    public Proposal Propose(ProposalKind kind, SettingValue to, int input = 1) =>
        Assistant.Propose(new TrimPlan([input], [new(kind, to, Saying.Plain("because"))], null, new ProposalEvidence()), Now)!;

    public Proposal ProposeTrim(double to) => Propose(ProposalKind.Trim, SettingValue.Gain(to));

    public Proposal ProposePadOut(double goalDb) => Assistant.Propose(
        new TrimPlan([1], PadSteps.Out(goalDb, Assistant.Desk.Pad!, Assistant.Desk.Trim!, _settings[1]), null, new ProposalEvidence()), Now)!;

    /// <summary>The desk says something new about an input.</summary>
    public void Say(Func<InputSettings, InputSettings> change, int input = 1)
    {
        var before = _settings[input];
        _settings[input] = change(before);
        Assistant.OnSettings(before, _settings[input], Now);
    }

    public void Wait(double seconds)
    {
        _elapsed += TimeSpan.FromSeconds(seconds);
        Assistant.Tick(Now);
    }

    /// <summary>The engineer confirms, the desk takes the value and says so.</summary>
    /// <param name="proposal">The proposal.</param>
    /// <param name="besideDb">How far from the wanted trim the desk's own one lies.</param>
    public Proposal Apply(Proposal proposal, double besideDb = 0)
    {
        var confirmation = GateBench.Naming(proposal, [.. proposal.Needs]);
        Assert.Equal(GateCode.Accepted, Assistant.Gate.Reserve(confirmation, Assistant.View, Now).Code);
        Assert.NotNull(Assistant.Gate.Grant(proposal.Id, Assistant.View));
        foreach (var input in proposal.Inputs)
        {
            Say(one => proposal.Kind switch
            {
                ProposalKind.Trim => one with { Trim = new Decibels((float)(proposal.To.Db!.Value + besideDb)) },
                ProposalKind.Pad => one with { PadOn = proposal.To.On },
                _ => one with { Muted = proposal.To.On },
            }, input);
        }

        return Assistant.Settle(proposal.Id, new(WriteResult.Applied, proposal.To, Saying.Plain("Read back from the desk.")), Now);
    }

    public Proposal Find(Proposal proposal) => Assistant.Book.Find(proposal.Id)!;

    public Proposal? TheOpen() => Assistant.Book.Open.SingleOrDefault();

    void IAssistantEvents.ProposalChanged(Proposal proposal)
    {
    }

    void IAssistantEvents.AlarmChanged(Alarm alarm) => Alarms.Add(alarm);

    void IAssistantEvents.CheckChanged(SoundCheck check)
    {
    }

    void IAssistantEvents.ShowHeard(IReadOnlyList<ShowInput> inputs, bool isOver) => Shows.Add((inputs, isOver));

    void IAssistantEvents.PatchChanged(SafePatch patch)
    {
    }
}
