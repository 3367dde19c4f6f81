using System.Diagnostics;
using TrimAssist.Journal;
using Xunit;

namespace TrimAssist.Service.Tests.Journal;

/// <summary>One process writes a journal; any number may read it.</summary>
public sealed class JournalLockTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public void Dispose() => _folder.Dispose();

    [Fact]
    public async Task A_second_service_is_refused_with_the_path_and_what_to_do()
    {
        await using var first = SqliteJournal.Open(_folder.Path);
        var refused = Assert.Throws<JournalOpenException>(() => SqliteJournal.Open(_folder.Path));
        Assert.Contains(new JournalFiles(_folder.Path).Database, refused.Message, StringComparison.Ordinal);
        Assert.Contains("--data", refused.Message, StringComparison.Ordinal);
        Assert.True((await first.AppendAsync(Facts.Numbered(1), Cancel)).Durable);
    }

    [Fact]
    public async Task The_next_service_may_write_once_the_first_has_ended()
    {
        await SqliteJournal.Open(_folder.Path).DisposeAsync();
        await using var next = SqliteJournal.Open(_folder.Path);
        Assert.True((await next.AppendAsync(Facts.Numbered(1), Cancel)).Durable);
    }

    [Fact]
    public async Task A_reader_needs_no_lock()
    {
        await using var writing = SqliteJournal.Open(_folder.Path);
        await writing.AppendAsync(Facts.Numbered(1), Cancel);
        Assert.Equal(1, new SqliteJournalReader(_folder.Path).LastPosition);
    }

    [Fact]
    public async Task A_lock_held_by_another_process_counts_and_falls_with_the_process()
    {
        // util-linux's flock takes the same kind of lock from a process of its own, and --close keeps its child from sharing it.
        const string flock = "/usr/bin/flock";
        Assert.SkipUnless(OperatingSystem.IsLinux() && File.Exists(flock), "needs util-linux's flock");
        var start = new ProcessStartInfo(flock, ["--close", new JournalFiles(_folder.Path).Lock, "sh", "-c", "echo held; exec cat"]) { UseShellExecute = false, RedirectStandardInput = true, RedirectStandardOutput = true };
        using var other = Process.Start(start)!;
        Assert.Equal("held", await other.StandardOutput.ReadLineAsync(Cancel));
        Assert.Contains("Another service", Assert.Throws<JournalOpenException>(() => SqliteJournal.Open(_folder.Path)).Message, StringComparison.Ordinal);
        other.Kill(entireProcessTree: true);
        await other.WaitForExitAsync(Cancel);
        await using var journal = SqliteJournal.Open(_folder.Path);
        Assert.True((await journal.AppendAsync(Facts.Numbered(1), Cancel)).Durable);
    }
}
