using TrimAssist.Core.Alarms;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;
using TrimAssist.DemoDesk;
using TrimAssist.DemoDesk.Festival;
using TrimAssist.Service.Clocks;
using TrimAssist.Service.Contract;
using TrimAssist.Service.Failures;

namespace TrimAssist.Service.Demo;

/// <summary>The whole festival without waiting: time moves as fast as both sides keep up, a scripted engineer confirms over HTTP.</summary>
internal sealed class FastRun(DemoSession session, SteppedTime clock, DemoClient client, StageManager manager, int acts)
{
    /// <summary>Frames between looks at what the engineer should do.</summary>
    private const int LookEvery = 4;

    private static readonly TimeSpan HandTime = TimeSpan.FromSeconds(0.7);

    /// <summary>An alarm this close to a bang means that bang.</summary>
    private const double SameBangS = 0.5;

    private readonly HashSet<Guid> _confirmed = [];
    private readonly DateTimeOffset _began = clock.GetUtcNow();
    private long _heardBefore;
    private long _sentBefore;

    /// <summary>Runs every act once and sums up.</summary>
    public async Task<DemoSummary> RunAsync(CancellationToken cancellationToken)
    {
        await ComeLiveAsync(cancellationToken);
        var played = 0;
        var act = session.Desk.Moment.Act;
        while (played < acts)
        {
            cancellationToken.ThrowIfCancellationRequested();
            var moment = session.Desk.Moment;
            if (moment.Act != act)
            {
                act = moment.Act;
                played++;
                continue;
            }

            await manager.FollowAsync(moment, cancellationToken);
            await ConfirmAllAsync(cancellationToken);
            await StepAsync(LookEvery, cancellationToken);
        }

        return await SumUpAsync(cancellationToken);
    }

    private async Task ComeLiveAsync(CancellationToken cancellationToken)
    {
        while ((await client.DeskAsync(cancellationToken)).State != LinkState.Live)
            await StepOnceAsync(cancellationToken);
        await CatchUpAsync(cancellationToken);
        _heardBefore = (await client.DeskAsync(cancellationToken)).FramesHeard;
        _sentBefore = session.Desk.Frames;
    }

    private async Task StepOnceAsync(CancellationToken cancellationToken)
    {
        session.Desk.Step();
        clock.Advance(BuiltInDesk.StepLength);
        await Task.Yield();
        cancellationToken.ThrowIfCancellationRequested();
    }

    private async Task StepAsync(int frames, CancellationToken cancellationToken)
    {
        for (var frame = 0; frame < frames; frame++)
            await StepOnceAsync(cancellationToken);
        await CatchUpAsync(cancellationToken);
    }

    // Time stands still until the service has heard what was sent: both sides keep their distance in frames, not in seconds.
    private async Task CatchUpAsync(CancellationToken cancellationToken)
    {
        if (_sentBefore == 0)
            return;
        var due = _heardBefore + session.Desk.Frames - _sentBefore;
        while (true)
        {
            session.Desk.Answer();
            var desk = await client.DeskAsync(cancellationToken);
            if (desk.FramesHeard + desk.FramesLost >= due)
                return;
        }
    }

    private async Task ConfirmAllAsync(CancellationToken cancellationToken)
    {
        while (true)
        {
            var open = await client.ProposalsAsync("?state=open", cancellationToken);
            var next = open.Where(one => !_confirmed.Contains(one.Id) && IsDue(one)).ToList();
            if (next.Count == 0)
                return;
            foreach (var proposal in next)
                await ConfirmAsync(proposal, cancellationToken);
        }
    }

    // A first word about a bang may be taken back within half a second; the engineer's hand is not faster than that.
    private bool IsDue(ProposalReply shown) => shown.Evidence.AlarmId is null || clock.GetUtcNow() - shown.CreatedAt > HandTime;

    private async Task ConfirmAsync(ProposalReply shown, CancellationToken cancellationToken)
    {
        _confirmed.Add(shown.Id);
        var confirming = client.ConfirmAsync(shown, cancellationToken);
        while (!confirming.IsCompleted)
            await AnswerAsync();
        try
        {
            await confirming;
        }
        catch (HttpRequestException refused)
        {
            throw new WorkFailedException($"The confirmation of a {shown.Kind} on input {shown.Input} was refused: {refused.Message}");
        }

        // The desk answers, then the next step of a sequence opens.
        while ((await client.ProposalsAsync("", cancellationToken)).First(one => one.Id == shown.Id).State == ProposalState.Confirmed)
            await AnswerAsync();
    }

    private async Task AnswerAsync()
    {
        session.Desk.Answer();
        await Task.Delay(TimeSpan.FromMilliseconds(1), TimeProvider.System);
    }

    private async Task<DemoSummary> SumUpAsync(CancellationToken cancellationToken)
    {
        var proposals = await client.ProposalsAsync("", cancellationToken);
        var alarms = await client.AlarmsAsync(cancellationToken);
        var truth = session.Desk.Truth;
        var pops = truth.Pops.Where(pop => pop.Phase is FestivalPhase.Show or FestivalPhase.Check).ToList();
        var named = alarms.Where(alarm => alarm.Kind is AlarmKind.Pop or AlarmKind.Crackle && alarm.State != AlarmState.Withdrawn).ToList();
        var found = pops.Count(pop => named.Any(alarm => Names(alarm, pop)));
        return new DemoSummary(
            acts,
            truth.ShowPeaksDbfs.Count,
            proposals.Count,
            _confirmed.Count,
            proposals.Count(one => _confirmed.Contains(one.Id) && one.State == ProposalState.Applied),
            truth.ShowPeaksDbfs.Count(peak => peak.Value >= 0),
            pops.Count,
            found,
            named.Count(alarm => alarm.Kind == AlarmKind.Pop && !truth.Banged(alarm.Input ?? 0, (alarm.At - _began).TotalSeconds, SameBangS)));
    }

    private bool Names(AlarmReply alarm, TruePop pop) =>
        alarm.Input == pop.Input && Math.Abs((alarm.At - _began).TotalSeconds - pop.AtS) <= SameBangS;
}

/// <summary>What came of a fast run.</summary>
/// <param name="Acts">Acts played.</param>
/// <param name="Inputs">Inputs that played a show.</param>
/// <param name="Proposals">Proposals made.</param>
/// <param name="Confirmed">Proposals confirmed.</param>
/// <param name="Verified">Confirmed ones read back from the desk.</param>
/// <param name="ShowsClipped">Inputs whose show reached full scale.</param>
/// <param name="Pops">Pops that happened.</param>
/// <param name="PopsFound">Pops that an alarm named at their moment.</param>
/// <param name="FalsePops">Pop alarms that stood where nothing banged.</param>
internal sealed record DemoSummary(
    int Acts, int Inputs, int Proposals, int Confirmed, int Verified, int ShowsClipped, int Pops, int PopsFound, int FalsePops);
