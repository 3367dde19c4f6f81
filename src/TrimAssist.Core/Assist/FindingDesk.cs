using TrimAssist.Core.Alarms;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Listening;
using TrimAssist.Core.Patch;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Time;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Assist;

/// <summary>Turns what the listeners find into alarms, and a pop on an open input into a mute proposal.</summary>
internal sealed class FindingDesk(
    DeskDescription desk, AlarmBoard alarms, ProposalDesk proposals, ProposalBook book, PatchRoom patches, Func<int, InputSettings> settings)
{
    /// <summary>How many findings may be under way at once; older ones get no later words.</summary>
    private const int Bound = 512;

    private readonly Dictionary<int, (Guid Id, bool IsFirst)> _alarmOf = [];
    private readonly Queue<int> _oldest = new();

    /// <summary>Takes in one finding.</summary>
    /// <param name="finding">The finding.</param>
    /// <param name="watched">Whether the input is watched: findings of an unwatched input only teach the listener.</param>
    /// <param name="now">The moment it arrived.</param>
    public void Take(in Finding finding, bool watched, Moment now)
    {
        if (_alarmOf.TryGetValue(finding.Id, out var alarm))
            Follow(alarm.Id, alarm.IsFirst, finding, now);
        else if ((watched || patches.IsHeld(finding.Input)) && finding.Stage == FindingStage.Raised)
            Raise(finding, now);
    }

    private void Raise(in Finding finding, Moment now)
    {
        var kind = KindOf(finding.Kind);
        var muted = settings(finding.Input).Muted is true;
        var expected = patches.IsHeld(finding.Input);
        var alarm = alarms.Raise(
            kind,
            finding.Input,
            now,
            Size(finding),
            priority: muted && kind is (AlarmKind.Pop or AlarmKind.Crackle) ? AlarmPriority.Low : null,
            text: muted && kind == AlarmKind.Pop ? AlarmSayings.AlarmPopMuted : null,
            suppressed: expected);
        Remember(finding.Id, alarm.Id);
        if (kind == AlarmKind.Pop && !muted && !expected)
            ProposeMute(finding, alarm, now);
        if (AlarmRule.Of(kind).IsMomentary)
            alarms.End(alarm.Id, now);
    }

    private void Follow(Guid alarm, bool isFirst, in Finding finding, Moment now)
    {
        switch (finding.Stage)
        {
            // What was seen again and was nothing leaves the first sight standing.
            case FindingStage.Withdrawn when !isFirst:
                alarms.End(alarm, now);
                break;
            case FindingStage.Withdrawn:
                if (alarms.Find(alarm)?.ProposalId is { } proposal && book.Find(proposal) is { IsOpen: true })
                    book.Move(proposal, ProposalState.Superseded, OutcomeSayings.ClosedPlaying);
                alarms.Withdraw(alarm);
                break;
            case FindingStage.Refined:
                alarms.Refine(alarm, KindOf(finding.Kind), Size(finding), now);
                break;
            case FindingStage.Ended:
                alarms.End(alarm, now);
                break;
            case FindingStage.Raised:
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(finding), finding.Stage, "not a stage of a finding");
        }
    }

    private void ProposeMute(in Finding finding, Alarm alarm, Moment now)
    {
        if (desk.Mute is null)
            return;
        // A mute that the stage waits for must not give way to one that lives twenty seconds.
        if (patches.Find(finding.Input) is { State: PatchState.Waiting, MuteProposal: { } asked } && book.Find(asked) is { IsOpen: true })
        {
            alarms.Attach(alarm.Id, asked);
            return;
        }

        // A mute that waits for one half of a pair must not leave the other without one.
        if ((ProposeMute(MutedTogether(finding.Input), finding, alarm, now) ?? ProposeMute([finding.Input], finding, alarm, now)) is { } proposal)
            alarms.Attach(alarm.Id, proposal.Id);
    }

    private Proposal? ProposeMute(int[] inputs, in Finding finding, Alarm alarm, Moment now) => proposals.Propose(
        new TrimPlan(
            inputs,
            [new(ProposalKind.Mute, SettingValue.Switch(true), MuteSayings.MutePop(finding.SizeDb))],
            null,
            new ProposalEvidence { AlarmId = alarm.Id, SizeDb = Size(finding), PeakDbfs = float.IsFinite(finding.PeakDbfs) ? finding.PeakDbfs : null }),
        now,
        ProposalLife.PopMute);

    // Both halves of a pair, where both are open.
    private int[] MutedTogether(int input) => LinkedPair.Of(input, settings, desk.Inputs) is var pair && pair.All(one => settings(one).Muted is false) ? pair : [input];

    private void Remember(int finding, Guid alarm)
    {
        _alarmOf[finding] = (alarm, !_alarmOf.Values.Any(one => one.Id == alarm));
        _oldest.Enqueue(finding);
        if (_oldest.Count > Bound)
            _alarmOf.Remove(_oldest.Dequeue());
    }

    private static double? Size(in Finding finding) => float.IsFinite(finding.SizeDb) ? Math.Round(finding.SizeDb, 1) : null;

    private static AlarmKind KindOf(FindingKind kind) => kind switch
    {
        FindingKind.Pop => AlarmKind.Pop,
        FindingKind.Crackle => AlarmKind.Crackle,
        FindingKind.StepUp => AlarmKind.StepUp,
        FindingKind.StepDown => AlarmKind.StepDown,
        FindingKind.Overload => AlarmKind.Overload,
        FindingKind.FlatTop => AlarmKind.FlatTop,
        FindingKind.Hot => AlarmKind.Hot,
        FindingKind.Dropout => AlarmKind.Dropout,
        FindingKind.Ring => AlarmKind.Ring,
        FindingKind.NoiseRise => AlarmKind.NoiseRise,
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "not a kind of finding"),
    };
}
