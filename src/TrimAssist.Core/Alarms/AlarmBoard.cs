using TrimAssist.Core.Time;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Alarms;

/// <summary>The alarms of one desk and how they stand. One owner: the desk's loop.</summary>
/// <param name="desk">The desk's id.</param>
/// <param name="newId">Makes ids.</param>
/// <param name="changed">Told of every alarm and every change, in order.</param>
public sealed class AlarmBoard(string desk, Func<Guid> newId, Action<Alarm> changed)
{
    /// <summary>How many alarms are remembered; the journal remembers the rest.</summary>
    public const int Bound = 1000;

    /// <summary>The longest time that an alarm may be shelved.</summary>
    public static readonly TimeSpan LongestShelving = TimeSpan.FromHours(1);

    private readonly Dictionary<Guid, Standing> _byId = [];
    private readonly LinkedList<Guid> _newestFirst = new();
    private readonly AlarmGroups _groups = new();
    private readonly AlarmRates _rates = new();

    /// <summary>Every remembered alarm, newest first.</summary>
    public IEnumerable<Alarm> All => _newestFirst.Select(id => _byId[id].Alarm);

    /// <summary>How many alarms there were, by the measures of IEC 62682.</summary>
    public AlarmFigures Figures => _rates.Figures(All);

    /// <summary>The alarm with this id; <see langword="null"/> where there is none.</summary>
    public Alarm? Find(Guid id) => _byId.GetValueOrDefault(id)?.Alarm;

    /// <summary>Raises an alarm.</summary>
    /// <param name="kind">What it is about.</param>
    /// <param name="input">The input; <see langword="null"/> for the whole desk.</param>
    /// <param name="now">When it began.</param>
    /// <param name="sizeDb">How far the level jumped.</param>
    /// <param name="priority">Another priority than the kind's own.</param>
    /// <param name="text">Another text than the kind's own.</param>
    /// <param name="suppressed">Whether it was expected: it is written down and nobody is called.</param>
    public Alarm Raise(
        AlarmKind kind, int? input, Moment now, double? sizeDb = null, AlarmPriority? priority = null, Saying? text = null, bool suppressed = false)
    {
        if (Dip(kind, input, now) is { } goesOn)
            return SeenAgain(goesOn, sizeDb, now);
        var rule = AlarmRule.Of(kind);
        var id = newId();
        var alarm = new Alarm
        {
            Id = id,
            GroupId = suppressed ? id : _groups.Of(id, kind, input, now),
            Desk = desk,
            Input = input,
            Kind = kind,
            Priority = priority ?? rule.Priority,
            At = now,
            SizeDb = sizeDb,
            State = suppressed ? AlarmState.Suppressed : AlarmState.Unacknowledged,
            Text = text ?? rule.Text,
        };
        _byId.Add(alarm.Id, new Standing(alarm, GoesOn: true, LastSeen: now.Elapsed));
        _newestFirst.AddFirst(alarm.Id);
        Forget();
        if (!suppressed && alarm.GroupId == alarm.Id)
            _rates.Count(alarm);
        changed(alarm);
        return alarm;
    }

    /// <summary>Corrects kind and size of an alarm. A kind that changes brings its own priority and text.</summary>
    public void Refine(Guid id, AlarmKind kind, double? sizeDb, Moment now)
    {
        if (_byId.GetValueOrDefault(id) is not { } standing)
            return;
        var rule = AlarmRule.Of(kind);
        var alarm = standing.Alarm with { Kind = kind, SizeDb = sizeDb };
        Put(standing with
        {
            Alarm = kind == standing.Alarm.Kind ? alarm : alarm with { Priority = rule.Priority, Text = rule.Text },
            LastSeen = now.Elapsed,
        });
    }

    /// <summary>Takes an alarm back: later frames showed that it was nothing.</summary>
    public void Withdraw(Guid id) => Change(id, alarm => alarm with { State = AlarmState.Withdrawn, Text = AlarmSayings.AlarmTakenBack }, goesOn: false);

    /// <summary>What was expected of an input is over: a suppressed condition that still goes on calls from now on.</summary>
    public void Unsuppress(int input)
    {
        foreach (var standing in _byId.Values.Where(one => one is { GoesOn: true, Alarm.State: AlarmState.Suppressed } && one.Alarm.Input == input).ToList())
            Put(standing with { Alarm = standing.Alarm with { State = AlarmState.Unacknowledged } });
    }

    /// <summary>Names the proposal that goes with an alarm.</summary>
    public void Attach(Guid id, Guid proposal) => Change(id, alarm => alarm with { ProposalId = proposal }, goesOn: null);

    /// <summary>The condition is over; the alarm returns after the kind's off-delay.</summary>
    public void End(Guid id, Moment now)
    {
        if (_byId.GetValueOrDefault(id) is { } standing)
            _byId[id] = standing with { GoesOn = false, LastSeen = now.Elapsed };
    }

    /// <summary>The engineer has seen it.</summary>
    public void Acknowledge(Guid id) => Change(id, alarm => alarm.State switch
    {
        AlarmState.Unacknowledged => alarm with { State = AlarmState.Acknowledged },
        AlarmState.Returned => alarm with { State = AlarmState.Normal },
        _ => alarm,
    }, goesOn: null);

    /// <summary>Puts an active alarm aside for a time, at most <see cref="LongestShelving"/>.</summary>
    public void Shelve(Guid id, TimeSpan wait, Moment now)
    {
        if (_byId.GetValueOrDefault(id) is { Alarm.IsActive: true } standing)
        {
            var until = now.Elapsed + TimeSpan.FromTicks(Math.Clamp(wait.Ticks, 0, LongestShelving.Ticks));
            Put(standing with { Alarm = standing.Alarm with { State = AlarmState.Shelved }, ShelvedUntil = until });
        }
    }

    /// <summary>Lets off-delays and shelving run out.</summary>
    public void Tick(Moment now)
    {
        _rates.Look(now.Elapsed);
        for (var node = _newestFirst.First; node is not null; node = node.Next)
        {
            var standing = _byId[node.Value];
            if (standing.Alarm.State == AlarmState.Shelved && now.Elapsed >= standing.ShelvedUntil)
                Put(standing with { Alarm = standing.Alarm with { State = standing.GoesOn ? AlarmState.Unacknowledged : AlarmState.Returned } });
            else if (!standing.GoesOn && now.Elapsed - standing.LastSeen >= AlarmRule.Of(standing.Alarm.Kind).OffDelay)
                Return(standing);
        }
    }

    // The condition came back within its off-delay: the alarm never returned, and is the same one. A pop or a step is over at once; each is its own.
    private Standing? Dip(AlarmKind kind, int? input, Moment now) => AlarmRule.Of(kind).IsMomentary ? null : _byId.Values.FirstOrDefault(one =>
        one.Alarm.Kind == kind && one.Alarm.Input == input
        && one.Alarm.State is AlarmState.Unacknowledged or AlarmState.Acknowledged or AlarmState.Shelved
        && (one.GoesOn || now.Elapsed - one.LastSeen < AlarmRule.Of(kind).OffDelay));

    private Alarm SeenAgain(Standing standing, double? sizeDb, Moment now)
    {
        var alarm = standing.Alarm with { SizeDb = sizeDb > standing.Alarm.SizeDb ? sizeDb : standing.Alarm.SizeDb };
        Put(standing with { Alarm = alarm, GoesOn = true, LastSeen = now.Elapsed });
        return alarm;
    }

    private void Return(Standing standing)
    {
        AlarmState? next = standing.Alarm.State switch
        {
            AlarmState.Unacknowledged => AlarmState.Returned,
            AlarmState.Acknowledged => AlarmState.Normal,
            _ => null,
        };
        if (next is { } state)
            Put(standing with { Alarm = standing.Alarm with { State = state } });
    }

    private void Change(Guid id, Func<Alarm, Alarm> change, bool? goesOn)
    {
        if (_byId.GetValueOrDefault(id) is not { } standing)
            return;
        Put(standing with { Alarm = change(standing.Alarm), GoesOn = goesOn ?? standing.GoesOn });
    }

    private void Put(Standing standing)
    {
        var before = _byId[standing.Alarm.Id].Alarm;
        _byId[standing.Alarm.Id] = standing;
        if (standing.Alarm != before)
            changed(standing.Alarm);
    }

    private void Forget()
    {
        if (_byId.Count <= Bound)
            return;
        for (var node = _newestFirst.Last; node is not null; node = node.Previous)
        {
            if (_byId[node.Value].Alarm.IsActive)
                continue;
            _byId.Remove(node.Value);
            _newestFirst.Remove(node);
            return;
        }

        _byId.Remove(_newestFirst.Last!.Value);
        _newestFirst.RemoveLast();
    }

    private sealed record Standing(Alarm Alarm, bool GoesOn, TimeSpan LastSeen)
    {
        public TimeSpan ShelvedUntil { get; init; }
    }
}
