using System.Buffers.Binary;
using TrimAssist.Core.Proposals;
using TrimAssist.Journal;
using TrimAssist.Service.JournalLines;
using TrimAssist.Service.Loops;
using TrimAssist.TestKit.Desks;
using Xunit;

namespace TrimAssist.Service.Tests.Safety;

/// <summary>The power is cut after every single commit of a whole service's evening: what the next start makes of each of these journals.</summary>
public sealed class PowerCutReplayTests
{
    private const int LogHead = 32;
    private const int FrameHead = 24;

    [Fact]
    public async Task After_every_commit_a_restart_leaves_nothing_open_and_forgets_no_confirmation()
    {
        await using var bench = await ServiceBench.StartAsync();
        var (first, second, third) = (await bench.ProposeTrimAsync(20), await bench.ProposeTrimAsync(22, input: 2), await bench.ProposeTrimAsync(24, input: 3));
        await bench.ConfirmAsync(first);
        await bench.StateAsync(first, "applied");
        var patch = (await bench.PostAsync("desks/desk/inputs/4/patch")).Body!;
        var mute = await bench.GetAsync($"proposals/{patch["proposalId"]}");
        await bench.ConfirmAsync(mute);
        await bench.StateAsync(mute, "applied");
        await bench.PostAsync($"proposals/{third["id"]}/decline");
        bench.Desk.Takes = _ =>
        {
            bench.Desk.Answers = false;
            return null;
        };
        await bench.ConfirmAsync(second);
        await bench.StateAsync(second, "unknown");

        var files = new JournalFiles(bench.Folder.FullName);
        var (database, log) = (Read(files.Database), Read(files.WriteAheadLog));
        var commits = CommitsOf(log);
        Assert.True(commits.Count > 12, $"only {commits.Count} commits to cut at");
        var (mostConfirmed, mostSent) = (0, 0);
        foreach (var length in commits)
        {
            var (confirmed, sent, left) = StartAgain(database, log[..length], bench.Host.Now());
            Assert.All(left, proposal => Assert.False(proposal.State is ProposalState.Open or ProposalState.Confirmed, $"{proposal.State} after a restart"));
            Assert.All(sent, id => Assert.Contains(id, confirmed));
            Assert.Equal(sent.Distinct(), sent);
            Assert.All(left.Where(one => sent.Contains(one.Id)), one => Assert.True(one.State is ProposalState.Unknown or ProposalState.Applied, $"sent, then {one.State}"));
            Assert.All(left.Where(one => confirmed.Contains(one.Id) && !sent.Contains(one.Id)), one => Assert.Equal(ProposalState.Failed, one.State));
            Assert.All(confirmed, id => Assert.Contains(left, one => one.Id == id));
            // Later cuts only add.
            Assert.True(confirmed.Count >= mostConfirmed && sent.Count >= mostSent, "a later cut holds less than an earlier one");
            (mostConfirmed, mostSent) = (confirmed.Count, sent.Count);
        }

        Assert.Equal((3, 3), (mostConfirmed, mostSent));
        Assert.Equal(3, bench.Desk.Writes.Count);
    }

    private static (IReadOnlyList<Guid> Confirmed, IReadOnlyList<Guid> Sent, IReadOnlyList<Proposal> Left) StartAgain(byte[] database, byte[] log, Core.Time.Moment now)
    {
        var folder = Directory.CreateTempSubdirectory("trimassist-cut-");
        try
        {
            var files = new JournalFiles(folder.FullName);
            File.WriteAllBytes(files.Database, database);
            File.WriteAllBytes(files.WriteAheadLog, log);
            var journal = new SqliteJournalReader(folder.FullName);
            IReadOnlyList<Guid> Named(string kind) => [.. journal.ReadAfter(0, kind).Select(entry => System.Text.Json.JsonDocument.Parse(entry.Fact.Body).RootElement.GetProperty("proposal").GetGuid())];
            return (Named(JournalKinds.Confirmed), Named(JournalKinds.Sending), [.. StartupReplay.Read(new LineReader(journal), "desk", UnrulyDesk.Inputs, now).Select(one => one.Proposal)]);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    // The lengths of a write-ahead log at which a transaction ends: frames that name the database's size (SQLite's file format, section 4.1).
    private static List<int> CommitsOf(byte[] log)
    {
        var frame = FrameHead + (int)BinaryPrimitives.ReadUInt32BigEndian(log.AsSpan(8));
        return [.. Enumerable.Range(0, (log.Length - LogHead) / frame)
            .Where(number => BinaryPrimitives.ReadUInt32BigEndian(log.AsSpan(LogHead + (number * frame) + 4)) != 0)
            .Select(number => LogHead + ((number + 1) * frame))];
    }

    private static byte[] Read(string file)
    {
        using var stream = new FileStream(file, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }
}
