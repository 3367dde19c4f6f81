using Microsoft.Extensions.Logging.Abstractions;
using TrimAssist.Core.Assist;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Gate;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Patch;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Time;
using TrimAssist.Core.Units;
using TrimAssist.Core.Wording;
using TrimAssist.Journal;
using TrimAssist.Service.Acts;
using TrimAssist.Service.Events;
using TrimAssist.Service.JournalLines;
using TrimAssist.Service.Loops;

namespace TrimAssist.Service.Tests.Safety;

/// <summary>
/// A desk, a journal, an engineer, and the program between them, which may die at any of its waits. What stays when it dies: the desk, what
/// is on the disk, what the engineer was told. <see cref="Broken"/> says which promise did not hold.
/// </summary>
internal sealed class HistoryWorld
{
    public const int Inputs = 3;

    private static readonly DeskDescription Description = new()
    {
        Id = "desk",
        Name = "Desk of a random history",
        Inputs = Inputs,
        Meter = new MeterTraits(0.05, Tap: MeterTap.Converter, FollowsMute: false),
        Trim = new TrimControl(0, 60, 1, 0.4, Digital: false, []),
        Pad = new PadControl(20, []),
        Mute = new MuteControl(SafePatch.Paths),
        FaderReadable = true,
    };

    private readonly HistoryTally _seen;
    private readonly HistoryTime _time = new();
    private readonly HistoryJournal _journal = new();
    private readonly InputSettings[] _desk;
    private readonly Dictionary<Guid, string> _asked = [];
    private readonly HashSet<Guid> _acknowledged = [];
    private readonly Dictionary<Guid, int> _written = [];
    private HistoryProgram _program;
    private double _meterS;

    public HistoryWorld(HistoryTally seen)
    {
        _seen = seen;
        _desk = [.. Enumerable.Range(1, Inputs).Select(input => new InputSettings { Input = input, Trim = new Decibels(20), PadOn = false, Muted = false, PhantomOn = false, FaderDb = 0 })];
        _program = Start();
    }

    /// <summary>The first promise that did not hold; <see langword="null"/> while all do.</summary>
    public string? Broken { get; private set; }

    /// <summary>How the desk answers a change.</summary>
    private WriteResult DeskDoes { get; set; } = WriteResult.Applied;

    private bool DeskAlters { get; set; }

    private bool AnswersQuestions { get; set; } = true;

    private bool DiesOnTheWire { get; set; }

    private DeskAssistant Assistant => _program.Assistant;

    /// <summary>One thing happens.</summary>
    public void Do(HistoryDeed deed, int input, int number)
    {
        if (Broken is not null)
            return;
        var last = Assistant.Book.All.FirstOrDefault(one => one.Inputs.Contains(input));
        switch (deed)
        {
            case HistoryDeed.ProposeTrim:
                Propose(input, [new(ProposalKind.Trim, SettingValue.Gain(number), Saying.Plain("because"))]);
                break;
            case HistoryDeed.ProposePad:
                var now = _program.Known[input - 1];
                Propose(input, now.PadOn is true ? PadSteps.Out(number, Description.Pad!, Description.Trim!, now) : PadSteps.In(number, Description.Pad!, now));
                break;
            case HistoryDeed.MuteFirst when last is not null:
                Assistant.MuteFirst(last.Id, Now);
                break;
            case HistoryDeed.Undo when Assistant.Book.All.FirstOrDefault(one => one.State == ProposalState.Applied && one.Inputs.Contains(input)) is { } applied:
                if (Assistant.Undo(applied.Id, Now).Answer == WayBack.Proposed)
                    _seen.Count(HistoryTally.UndoneWrite);
                break;
            case HistoryDeed.AskForPatch:
                Assistant.AskForPatch(input, null, Now);
                break;
            case HistoryDeed.PatchConfirmed:
                Patch(input);
                break;
            case HistoryDeed.PatchThrough:
                Patch(input);
                Assistant.Patches.Plugged(input);
                Sound();
                if (Assistant.Book.Open.FirstOrDefault(one => one.Kind == ProposalKind.Unmute && one.Inputs.Contains(input)) is { } opening)
                    Confirm(opening, opening.Digest, opening.Needs);
                break;
            case HistoryDeed.Plugged:
                Assistant.Patches.Plugged(input);
                Sound();
                break;
            case HistoryDeed.Confirm when last is not null:
                Confirm(last, last.Digest, last.Needs);
                break;
            case HistoryDeed.ConfirmAgain when _asked.Count > 0:
                var (id, digest) = _asked.ElementAt(number % _asked.Count);
                if (Assistant.Book.Find(id) is { } again)
                    Confirm(again, digest, again.Needs);
                break;
            case HistoryDeed.ConfirmOlder when Assistant.Book.All.Skip(number % 8).FirstOrDefault() is { } older:
                Confirm(older, older.Digest, older.Needs);
                break;
            case HistoryDeed.ConfirmWrong when last is not null:
                Confirm(last, last.Digest[..63] + (last.Digest[63] == '0' ? '1' : '0'), last.Needs);
                break;
            case HistoryDeed.ConfirmUnnamed when last is { Needs.Count: > 0 }:
                Confirm(last, last.Digest, []);
                break;
            case HistoryDeed.ConfirmTogether when last is not null:
                _journal.Holds = true;
                var (first, second) = (Begin(last, last.Digest, last.Needs), Begin(last, last.Digest, last.Needs));
                _journal.Release();
                // Of several who wait for one answer not all go on before whoever gave it does.
                Task.WaitAll(first, second);
                if (first.Result.Code == GateCode.Accepted)
                {
                    _seen.Count(HistoryTally.Together);
                    Require(second.Result.Code is GateCode.Accepted or GateCode.AlreadyConfirmed, "the second of two at once was refused");
                }

                break;
            case HistoryDeed.ConfirmWhileTheJournalWaits when last is not null:
                // The desk moves, or the show begins, while the confirmation is being written down.
                _journal.Holds = true;
                Confirm(last, last.Digest, last.Needs);
                if (number % 2 == 0)
                    Turn(input, one => one with { Trim = new Decibels(number) }, heard: true);
                else
                    Assistant.Watch(true, Now);
                _journal.Release();
                break;
            case HistoryDeed.Decline when last is not null:
                Assistant.Decline(last.Id, Now);
                break;
            case HistoryDeed.Wait:
                _time.Forward(TimeSpan.FromSeconds(number / 10.0));
                Assistant.Tick(Now);
                break;
            case HistoryDeed.WaitLong:
                _time.Forward(ProposalLife.Trim);
                Assistant.Tick(Now);
                break;
            case HistoryDeed.ClockSet:
                _time.Set(TimeSpan.FromHours(number % 2 == 0 ? 1 : -1));
                break;
            case HistoryDeed.KnobTurned:
                Turn(input, one => one with { Trim = new Decibels(number) }, heard: true);
                break;
            case HistoryDeed.KnobTurnedUnheard:
                Turn(input, one => one with { Trim = new Decibels(number) }, heard: false);
                break;
            case HistoryDeed.MuteByHand:
                Turn(input, one => one with { Muted = number % 2 == 0 }, heard: number % 3 > 0);
                break;
            case HistoryDeed.SceneRecalled:
                if (Assistant.Book.Open.Any())
                    _seen.Count(HistoryTally.Recalled);
                for (var one = 1; one <= Inputs; one++)
                    Turn(one, settings => settings with { Trim = new Decibels((number + (7 * settings.Input)) % 60), Muted = (number + settings.Input) % 2 == 0 }, heard: true);
                Assistant.OnDeskReplaced(Saying.Plain("A scene was recalled."), Now);
                Require(!Assistant.Book.Open.Any(), "a proposal outlived a scene recall");
                break;
            case HistoryDeed.LinkLost:
                Assistant.OnLink(LinkState.Lost, Saying.Plain("The meters stopped."), Now);
                break;
            case HistoryDeed.LinkBack:
                Assistant.OnLink(LinkState.Live, Saying.Plain("Meters arrive."), Now);
                break;
            case HistoryDeed.WatchOn or HistoryDeed.WatchOff:
                Assistant.Watch(deed == HistoryDeed.WatchOn, Now);
                break;
            case HistoryDeed.DeskTakes or HistoryDeed.DeskAlters or HistoryDeed.DeskIgnores or HistoryDeed.DeskSaysNothing:
                DeskDoes = deed switch { HistoryDeed.DeskTakes => WriteResult.Applied, HistoryDeed.DeskSaysNothing => WriteResult.Unknown, _ => WriteResult.Failed };
                DeskAlters = deed == HistoryDeed.DeskAlters;
                AnswersQuestions = true;
                break;
            case HistoryDeed.DeskAnswersNoQuestion:
                AnswersQuestions = false;
                break;
            case HistoryDeed.JournalRefuses or HistoryDeed.JournalRefusesProposals or HistoryDeed.JournalTakes:
                (_journal.Refuses, _journal.RefusesProposals) = (deed == HistoryDeed.JournalRefuses, deed == HistoryDeed.JournalRefusesProposals);
                break;
            case HistoryDeed.ReadUnknown:
                var unknown = Assistant.Book.All.Count(one => one.State == ProposalState.Unknown);
                _ = _program.Keeper.ReadUnknownAsync((one, _) => _program.HeardAgo(one, Now));
                if (Assistant.Book.All.Count(one => one.State == ProposalState.Unknown) < unknown)
                    _seen.Count(HistoryTally.ReadLater);
                break;
            case HistoryDeed.DieBeforeConfirmed or HistoryDeed.DieAfterConfirmed or HistoryDeed.DieBeforeSending or HistoryDeed.DieAfterSending when last is not null:
                _journal.DiesAt = (deed is HistoryDeed.DieBeforeConfirmed or HistoryDeed.DieAfterConfirmed ? JournalKinds.Confirmed : JournalKinds.Sending, deed is HistoryDeed.DieAfterConfirmed or HistoryDeed.DieAfterSending);
                Confirm(last, last.Digest, last.Needs);
                Restart();
                break;
            case HistoryDeed.DieOnTheWire when last is not null:
                DiesOnTheWire = true;
                Confirm(last, last.Digest, last.Needs);
                Restart();
                break;
            case HistoryDeed.DieNow:
                Restart();
                break;
            default:
                break;
        }

        foreach (var patch in Assistant.Patches.All.Where(patch => patch.IsHeld))
            _seen.Count(HistoryTally.PatchHeld);
        RequireRemembered();
    }

    private void Patch(int input)
    {
        if (Assistant.AskForPatch(input, null, Now) is { State: PatchState.Waiting, MuteProposal: { } asked } && Assistant.Book.Find(asked) is { } mute)
            Confirm(mute, mute.Digest, mute.Needs);
    }

    private Moment Now => new(_time.Elapsed, _time.GetUtcNow());

    private void Propose(int input, IReadOnlyList<PlannedStep> steps) => Assistant.Propose(new TrimPlan([input], steps, null, new ProposalEvidence()), Now);

    private void Confirm(Proposal proposal, string digest, IReadOnlyList<string> words) => _ = Begin(proposal, digest, words);

    private async Task<GateAnswer> Begin(Proposal proposal, string digest, IReadOnlyList<string> words)
    {
        if (string.Equals(digest, proposal.Digest, StringComparison.Ordinal))
            _asked[proposal.Id] = digest;
        var (sentBefore, program) = (_written.GetValueOrDefault(proposal.Id), _program);
        var answer = await _program.Keeper.ConfirmAsync(new Confirmation(proposal.Id, digest, words, "engineer"));
        if (answer.Code == GateCode.Accepted)
        {
            Require(ReferenceEquals(program, _program), "a dead program answered");
            _acknowledged.Add(proposal.Id);
            _seen.Count(HistoryTally.Acknowledged);
        }
        else
        {
            _seen.Count(answer.Code == GateCode.AlreadyConfirmed ? HistoryTally.Repeated : HistoryTally.Refused);
            Require(_written.GetValueOrDefault(proposal.Id) == sentBefore, $"{answer.Code} sent something");
        }

        return answer;
    }

    // Two and a half seconds of rest, the desk telling its mutes all the while: what a patch needs to settle.
    private void Sound()
    {
        for (var frame = 0; frame < 50; frame++)
        {
            _meterS += 0.05;
            _time.Forward(TimeSpan.FromSeconds(0.05));
            for (var input = 1; input <= Inputs; input++)
                Assistant.OnReading(new MeterReading(input, _meterS, -75 + (0.2f * (frame % 4)), -80), Now);
            if (frame % 6 == 0 && AnswersQuestions)
                HearAll();
            Assistant.Tick(Now);
        }
    }

    private void Turn(int input, Func<InputSettings, InputSettings> change, bool heard)
    {
        _desk[input - 1] = change(_desk[input - 1]);
        if (heard)
            Hear(input);
    }

    private void HearAll()
    {
        for (var input = 1; input <= Inputs; input++)
            Hear(input);
    }

    private void Hear(int input) => _program.Hear(_desk[input - 1], Now);

    // The gate's keeper asks the desk once more.
    private Task<bool> ReadAgain(Proposal proposal)
    {
        if (!AnswersQuestions)
            return Task.FromResult(proposal.Kind == ProposalKind.Mute);
        foreach (var input in proposal.Inputs)
            Hear(input);
        return Task.FromResult(true);
    }

    // The writer's side of the wire: what is written here has left the program for good.
    private Task<WriteOutcome> Write(ConfirmedChange change)
    {
        if (change.Inputs.Any(input => ControlValue.Of(_program.Known[input - 1], change.Kind) is not { } value || !value.Matches(change.From, Description.Trim!.ToleranceDb)))
            return Task.FromResult(new WriteOutcome(WriteResult.NotSent, null, Saying.Plain("The desk's value moved before the change was sent.")));
        RequireConfirmed(change);
        _written[change.Proposal] = _written.GetValueOrDefault(change.Proposal) + 1;
        _seen.Count(HistoryTally.Write);
        Require(_written[change.Proposal] == 1, "a change was sent twice");
        if (DeskDoes != WriteResult.Failed || DeskAlters)
        {
            foreach (var input in change.Inputs)
                _desk[input - 1] = Taken(_desk[input - 1], change);
        }

        if (DiesOnTheWire)
        {
            DiesOnTheWire = false;
            _seen.Count(HistoryTally.DiedWithUnknown);
            return new TaskCompletionSource<WriteOutcome>().Task;
        }

        if (DeskDoes == WriteResult.Unknown)
            return Task.FromResult(new WriteOutcome(WriteResult.Unknown, null, Saying.Plain("The desk never said.")));
        foreach (var input in change.Inputs)
            Hear(input);
        if (change.Kind == ProposalKind.Unmute && Assistant.Patches.All.Any(patch => patch.Inputs.Intersect(change.Inputs).Any()))
            _seen.Count(HistoryTally.PatchOpened);
        return Task.FromResult(new WriteOutcome(DeskDoes, null, Saying.Plain("Read back.")));
    }

    private InputSettings Taken(InputSettings now, ConfirmedChange change) => change.Kind switch
    {
        ProposalKind.Trim => now with { Trim = new Decibels(DeskAlters ? Math.Max(0, change.To.Db!.Value - 3) : change.To.Db!.Value) },
        ProposalKind.Pad => now with { PadOn = change.To.On == !DeskAlters },
        _ => now with { Muted = change.To.On == !DeskAlters },
    };

    // Exactly one confirmation before the write, of what was shown, asked for by somebody and on the disk, and the send on the disk too.
    private void RequireConfirmed(ConfirmedChange change)
    {
        var proposal = Assistant.Book.Find(change.Proposal);
        Require(proposal is { State: ProposalState.Confirmed } && proposal.To == change.To && proposal.From == change.From && proposal.Kind == change.Kind, "a write that is not what was confirmed");
        Require(_asked.TryGetValue(change.Proposal, out var digest) && digest == proposal?.Digest, "a write that nobody asked for by its digest");
        Require(_journal.Count(JournalKinds.Confirmed, change.Proposal) >= 1, "a write whose confirmation is not on the disk");
        Require(_journal.Count(JournalKinds.Sending, change.Proposal) == 1, "a write whose send is not on the disk once");
        Require(Assistant.Link == LinkState.Live, "a write on a link that is not live");
        Require(!Assistant.Watching || Dangers.RiseDb(change.Kind, change.From, change.To, Description) <= 0, "an increase during the show");
        Require(
            change.Kind != ProposalKind.Unmute || !Assistant.Patches.All.Any(patch => patch.State is PatchState.Safe or PatchState.Partly && patch.Inputs.Intersect(change.Inputs).Any()),
            "an unmute while somebody may hold the plug");
    }

    // What the engineer was told is in the book, ended or on its way, and the same confirmation again is answered with it.
    private void RequireRemembered()
    {
        foreach (var id in _acknowledged)
        {
            Require(_journal.Count(JournalKinds.Confirmed, id) >= 1, "an acknowledged confirmation is not on the disk");
            Require(
                Assistant.Book.Find(id) is { State: ProposalState.Confirmed or ProposalState.Applied or ProposalState.Failed or ProposalState.Unknown },
                $"an acknowledged confirmation is forgotten: {Assistant.Book.Find(id)?.State}");
        }
    }

    private void Restart()
    {
        _seen.Count(HistoryTally.Restart);
        _journal.DiesAt = null;
        _journal.Holds = false;
        DiesOnTheWire = false;
        var (written, acknowledged) = (_written.Values.Sum(), _acknowledged.ToList());
        foreach (var _ in acknowledged.Where(id => !_journal.Tells(id)))
            _seen.Count(HistoryTally.ProposalRefused);
        _program = Start();
        Require(!Assistant.Book.All.Any(one => one.State is ProposalState.Open or ProposalState.Confirmed), "a restart left something open");
        foreach (var id in acknowledged.Where(id => !_written.ContainsKey(id) && Assistant.Book.Find(id)?.State == ProposalState.Failed))
            _seen.Count(HistoryTally.DiedWithUnsent);
        foreach (var (id, digest) in _asked.ToList())
        {
            if (Assistant.Book.Find(id) is { } proposal)
                Confirm(proposal, digest, proposal.Needs);
        }

        Require(_written.Values.Sum() == written, "something was sent after a restart");
    }

    private HistoryProgram Start()
    {
        var program = new HistoryProgram(Description, _time, _journal, ReadAgain, Write);
        _program = program;
        foreach (var (proposal, changed) in StartupReplay.Read(new LineReader(_journal), Description.Id, Inputs, Now))
        {
            program.Assistant.Recall(proposal);
            if (changed)
                program.Tell(proposal);
        }

        HearAll();
        program.Assistant.OnLink(LinkState.Live, Saying.Plain("Meters arrive."), Now);
        return program;
    }

    private void Require(bool holds, string otherwise) => Broken ??= holds ? null : otherwise;

    /// <summary>What dies: everything in the program's memory.</summary>
    private sealed class HistoryProgram
    {
        private readonly TimeSpan?[] _heardAt = new TimeSpan?[Inputs];
        private readonly DeskEvents _events;

        public HistoryProgram(DeskDescription desk, HistoryTime time, HistoryJournal journal, Func<Proposal, Task<bool>> readAgain, Func<ConfirmedChange, Task<WriteOutcome>> write)
        {
            var gateJournal = new GateJournal(journal.Open(), time, new Vitals(time), NullLogger<GateJournal>.Instance);
            Known = [.. Enumerable.Range(1, Inputs).Select(input => new InputSettings { Input = input })];
            _events = new DeskEvents(new EventHub(time), gateJournal, ShowMemory.Read(new LineReader(journal), time));
            Assistant = new DeskAssistant(
                desk, AssistOptions.Default, input => Known[input - 1], input => HeardAgo(input, new(time.Elapsed, time.GetUtcNow())), () => Guid.CreateVersion7(time.GetUtcNow()), _events);
            Keeper = new GateKeeper(Assistant, readAgain, new HistoryWriter(write), gateJournal, () => new(time.Elapsed, time.GetUtcNow()), CancellationToken.None);
        }

        public InputSettings[] Known { get; }

        public DeskAssistant Assistant { get; }

        public GateKeeper Keeper { get; }

        public TimeSpan? HeardAgo(int input, Moment now) => now.Elapsed - _heardAt[input - 1];

        public void Hear(InputSettings settings, Moment now)
        {
            var before = Known[settings.Input - 1];
            Known[settings.Input - 1] = settings;
            _heardAt[settings.Input - 1] = now.Elapsed;
            Assistant.OnSettings(before, settings, now);
        }

        public void Tell(Proposal proposal) => _events.ProposalChanged(proposal);
    }

    private sealed class HistoryWriter(Func<ConfirmedChange, Task<WriteOutcome>> write) : IDeskWriter
    {
        public Task<WriteOutcome> ApplyAsync(ConfirmedChange change, CancellationToken cancellationToken) => write(change);
    }
}
