using Microsoft.Extensions.Logging.Abstractions;
using TrimAssist.Core.Alarms;
using TrimAssist.Core.Journal;
using TrimAssist.Core.Time;
using TrimAssist.Service.Acts;
using TrimAssist.Service.Clocks;
using TrimAssist.Service.Events;
using TrimAssist.Service.JournalLines;
using TrimAssist.Service.Loops;
using TrimAssist.TestKit.Journal;
using Xunit;

namespace TrimAssist.Service.Tests.Loops;

/// <summary>Whom a desk's events reach, and in which order.</summary>
public sealed class DeskEventsTests
{
    private readonly SteppedTime _time = new(DateTimeOffset.UnixEpoch);
    private readonly EventHub _hub;
    private readonly WatchedJournal _journal;
    private readonly AlarmBoard _alarms;

    public DeskEventsTests()
    {
        _hub = new EventHub(_time);
        _journal = new WatchedJournal(_hub);
        var notes = new GateJournal(_journal, _time, new Vitals(_time), NullLogger<GateJournal>.Instance);
        var events = new DeskEvents(_hub, notes, ShowMemory.Read(new LineReader(new MemoryJournal()), _time));
        _alarms = new AlarmBoard("bench", Guid.NewGuid, events.AlarmChanged);
    }

    [Fact]
    public void A_warning_is_on_its_way_to_whoever_listens_before_the_journal_is_asked_to_note_it()
    {
        var before = _hub.CurrentId;
        _alarms.Raise(AlarmKind.Pop, 1, new Moment(TimeSpan.Zero, DateTimeOffset.UnixEpoch));

        Assert.NotEqual(before, Assert.Single(_journal.IdsWhenAsked));
    }

    [Fact]
    public async Task What_happens_in_one_order_is_told_and_noted_in_the_same()
    {
        using var client = _hub.JoinInside(null);
        var first = _alarms.Raise(AlarmKind.StepUp, 1, new Moment(TimeSpan.Zero, DateTimeOffset.UnixEpoch));
        _alarms.Raise(AlarmKind.Pop, 2, new Moment(TimeSpan.Zero, DateTimeOffset.UnixEpoch));
        _alarms.Withdraw(first.Id);

        var told = await client.ReadAsync(TestContext.Current.CancellationToken).Take(3).ToListAsync(TestContext.Current.CancellationToken);

        Assert.Equal(told.Select(one => one.Json), _journal.Bodies);
    }

    /// <summary>A journal that sees how far the stream was told when it was asked.</summary>
    private sealed class WatchedJournal(EventHub hub) : IJournal
    {
        public List<string> IdsWhenAsked { get; } = [];

        public List<string> Bodies { get; } = [];

        public string? Trouble => null;

        public Task<AppendResult> AppendAsync(NewEntry entry, CancellationToken cancellationToken)
        {
            IdsWhenAsked.Add(hub.CurrentId);
            Bodies.Add(entry.Body);
            return Task.FromResult(new AppendResult(AppendOutcome.Unavailable, null, "watched only"));
        }
    }
}
