using TrimAssist.Core.Journal;
using TrimAssist.Journal;
using Xunit;

namespace TrimAssist.Service.Tests.Journal;

/// <summary>What nobody waits for lets others join it for a moment; here the moment ends when the test says so.</summary>
public sealed class NoteTests : IAsyncDisposable
{
    private readonly TemporaryFolder _folder = new();
    private readonly HeldTime _time = new();
    private readonly SqliteJournal _journal;

    public NoteTests() => _journal = SqliteJournal.Open(_folder.Path, _time);

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public async ValueTask DisposeAsync()
    {
        await _journal.DisposeAsync();
        _folder.Dispose();
    }

    [Fact]
    public async Task A_note_waits_for_company_and_is_written_when_its_moment_is_over()
    {
        var noted = _journal.NoteAsync(Facts.Numbered(1));
        await _time.Asked.WaitAsync(TimeSpan.FromMinutes(1), Cancel);
        Assert.False(noted.IsCompleted);
        Assert.Equal(0, _journal.LastPosition);

        _time.Pass();

        Assert.Equal(new AppendResult(AppendOutcome.Appended, 1, null), await noted);
    }

    [Fact]
    public async Task What_must_be_durable_waits_for_no_note_and_takes_those_before_it_along()
    {
        var noted = _journal.NoteAsync(Facts.Numbered(1));
        await _time.Asked.WaitAsync(TimeSpan.FromMinutes(1), Cancel);

        Assert.Equal(new AppendResult(AppendOutcome.Appended, 2, null), await _journal.AppendAsync(Facts.Numbered(2), Cancel));
        Assert.Equal(new AppendResult(AppendOutcome.Appended, 1, null), await noted);
    }

    [Fact]
    public async Task Closing_writes_a_note_whose_moment_is_not_over()
    {
        var noted = _journal.NoteAsync(Facts.Numbered(1));
        await _time.Asked.WaitAsync(TimeSpan.FromMinutes(1), Cancel);

        await _journal.DisposeAsync();

        Assert.Equal(AppendOutcome.Appended, (await noted).Outcome);
    }

    [Fact]
    public async Task Notes_that_fill_a_commit_are_not_held_back()
    {
        var noted = Enumerable.Range(1, 256).Select(number => _journal.NoteAsync(Facts.Numbered(number))).ToList();

        Assert.All(await Task.WhenAll(noted), result => Assert.True(result.Durable));
    }

    /// <summary>A clock of which somebody asked to be woken, and that wakes when the test says so.</summary>
    private sealed class HeldTime : TimeProvider
    {
        private readonly TaskCompletionSource _asked = new(TaskCreationOptions.RunContinuationsAsynchronously);
        private Action? _wake;

        public Task Asked => _asked.Task;

        public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period)
        {
            _wake = () => callback(state);
            _asked.TrySetResult();
            return new Nothing();
        }

        public void Pass() => _wake!();

        private sealed class Nothing : ITimer
        {
            public bool Change(TimeSpan dueTime, TimeSpan period) => true;

            public void Dispose()
            {
            }

            public ValueTask DisposeAsync() => ValueTask.CompletedTask;
        }
    }
}
