using Dapper;
using TrimAssist.Core.Journal;
using TrimAssist.Journal;
using Xunit;

namespace TrimAssist.Service.Tests.Journal;

/// <summary>The journal on the disk keeps the contract, and what only a disk can be asked.</summary>
public sealed class SqliteJournalTests : JournalContract<SqliteJournal>, IAsyncDisposable
{
    private readonly TemporaryFolder _folder = new();

    public SqliteJournalTests() => Journal = SqliteJournal.Open(_folder.Path);

    protected override SqliteJournal Journal { get; }

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public async ValueTask DisposeAsync()
    {
        await Journal.DisposeAsync();
        _folder.Dispose();
    }

    [Fact]
    public async Task What_was_written_is_there_when_it_is_opened_again()
    {
        await Journal.AppendAsync(Facts.Numbered(1), Cancel);
        await Journal.DisposeAsync();
        await using var again = SqliteJournal.Open(_folder.Path);
        Assert.Equal([new JournalEntry(1, Facts.Numbered(1))], again.ReadAfter(0));
        Assert.Equal(2, (await again.AppendAsync(Facts.Numbered(2), Cancel)).Position);
    }

    [Fact]
    public void The_writer_asks_for_every_commit_to_be_flushed_to_the_disk()
    {
        using var connection = SqliteAccess.OpenWriting(Path.Combine(_folder.Path, "another.db"));
        // SQLite's documentation of PRAGMA synchronous: 2 is FULL.
        Assert.Equal(("wal", 2L), (connection.QuerySingle<string>("PRAGMA journal_mode"), connection.QuerySingle<long>("PRAGMA synchronous")));
    }

    [Fact]
    public async Task Closing_writes_what_still_waits()
    {
        var waiting = Enumerable.Range(1, 900).Select(number => Journal.AppendAsync(Facts.Numbered(number), Cancel)).ToArray();
        await Journal.DisposeAsync();
        Assert.All(await Task.WhenAll(waiting), result => Assert.Equal(AppendOutcome.Appended, result.Outcome));
        Assert.Equal(900, new SqliteJournalReader(_folder.Path).LastPosition);
    }

    [Fact]
    public async Task A_closed_journal_refuses_and_says_so()
    {
        await Journal.DisposeAsync();
        var result = await Journal.AppendAsync(Facts.Numbered(1), Cancel);
        Assert.Equal(new AppendResult(AppendOutcome.Unavailable, null, "The journal is closed."), result);
    }

    [Fact]
    public async Task More_than_may_wait_is_refused_and_never_held_without_bound()
    {
        using var held = new HeldDatabase(_folder.Path);
        var appends = Enumerable.Range(0, SqliteJournal.Room * 2).Select(number => Journal.AppendAsync(Facts.Numbered(number), Cancel)).ToArray();
        var refused = appends.Where(append => append.IsCompleted).ToArray();
        Assert.NotEmpty(refused);
        Assert.All(refused, append => Assert.Equal(AppendOutcome.Unavailable, append.Result.Outcome));
        held.Dispose();
        var results = await Task.WhenAll(appends);
        Assert.Equal(results.Count(result => result.Durable), Journal.LastPosition);
    }

    [Fact]
    public async Task A_database_held_by_another_program_is_a_refusal_that_passes()
    {
        using (new HeldDatabase(_folder.Path))
        {
            var result = await Journal.AppendAsync(Facts.Numbered(1), Cancel);
            Assert.Equal(AppendOutcome.Unavailable, result.Outcome);
            Assert.Equal(result.Reason, Journal.Trouble);
        }

        Assert.Equal(AppendOutcome.Appended, (await Journal.AppendAsync(Facts.Numbered(1), Cancel)).Outcome);
        Assert.Null(Journal.Trouble);
    }

    [Fact]
    public async Task Giving_up_the_wait_does_not_disturb_the_others()
    {
        using var giveUp = new CancellationTokenSource();
        using var held = new HeldDatabase(_folder.Path);
        var first = Journal.AppendAsync(Facts.Numbered(1), giveUp.Token);
        await giveUp.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => first);
        held.Dispose();
        Assert.True((await Journal.AppendAsync(Facts.Numbered(2), Cancel)).Durable);
    }

    [Fact]
    public async Task A_slow_reader_does_not_hold_up_the_writer()
    {
        foreach (var number in Enumerable.Range(1, 600))
            _ = Journal.AppendAsync(Facts.Numbered(number), Cancel);
        await Journal.AppendAsync(Facts.Numbered(601), Cancel);
        using var reading = Journal.ReadAfter(0).GetEnumerator();
        Assert.True(reading.MoveNext());
        Assert.True((await Journal.AppendAsync(Facts.Numbered(602), Cancel)).Durable);
        var seen = 1;
        while (reading.MoveNext())
            seen++;
        Assert.Equal(602, seen);
    }
}
