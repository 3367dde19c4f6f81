using System.Text.Json;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Journal;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Time;
using TrimAssist.Core.Wording;
using TrimAssist.Journal;
using TrimAssist.Service.Contract;
using TrimAssist.Service.JournalLines;
using TrimAssist.Service.Loops;
using TrimAssist.Service.Tests.JournalLines;
using TrimAssist.TestKit.Journal;
using Xunit;

namespace TrimAssist.Service.Tests.Loops;

/// <summary>What a restart makes of the proposals that earlier runs left behind.</summary>
public sealed class StartupReplayTests
{
    private static readonly Moment Now = new(TimeSpan.FromSeconds(5), new DateTimeOffset(2026, 7, 25, 20, 0, 0, TimeSpan.Zero));

    private readonly MemoryJournal _journal = new();
    private readonly List<JournalEntry> _odd = [];

    [Theory]
    [InlineData(ProposalState.Open, false, false, ProposalState.Expired)]
    [InlineData(ProposalState.Open, true, false, ProposalState.Failed)]
    [InlineData(ProposalState.Confirmed, true, false, ProposalState.Failed)]
    [InlineData(ProposalState.Confirmed, true, true, ProposalState.Unknown)]
    [InlineData(ProposalState.Applied, true, true, ProposalState.Applied)]
    [InlineData(ProposalState.Declined, false, false, ProposalState.Declined)]
    public async Task A_restart_never_leaves_a_proposal_open_and_tells_sent_from_unsent(
        ProposalState left, bool confirmed, bool sent, ProposalState expected)
    {
        var proposal = Make(left);
        await WriteAsync(JournalKinds.Proposal, JsonSerializer.Serialize(proposal.ToReply(), ApiJson.Options));
        if (confirmed)
            await WriteAsync(JournalKinds.Confirmed, Confirmed(proposal, shown: null));
        if (sent)
            await WriteAsync(JournalKinds.Sending, JsonSerializer.Serialize(new SendingBody(proposal.Id), GateJournalJson.Lines.SendingBody));

        var (read, changed) = Assert.Single(StartupReplay.Read(new LineReader(_journal), "bench", 24, Now));

        Assert.Equal((expected, left != expected), (read.State, changed));
        Assert.Equal((proposal.Digest, proposal.From, proposal.To), (read.Digest, read.From, read.To));
    }

    [Theory]
    [InlineData(false, ProposalState.Failed)]
    [InlineData(true, ProposalState.Unknown)]
    public async Task A_confirmation_whose_proposals_own_line_the_disk_refused_tells_by_itself_what_was_confirmed(bool sent, ProposalState expected)
    {
        var proposal = Make(ProposalState.Open);
        await WriteAsync(JournalKinds.Confirmed, Confirmed(proposal, shown: proposal.ToReply()));
        if (sent)
            await WriteAsync(JournalKinds.Sending, JsonSerializer.Serialize(new SendingBody(proposal.Id), GateJournalJson.Lines.SendingBody));

        var (read, changed) = Assert.Single(StartupReplay.Read(new LineReader(_journal), "bench", 24, Now));

        Assert.Equal((expected, true), (read.State, changed));
        Assert.Equal((proposal.Id, proposal.Digest, proposal.Kind, proposal.From, proposal.To, proposal.Input), (read.Id, read.Digest, read.Kind, read.From, read.To, read.Input));
    }

    [Fact]
    public async Task A_journal_of_before_whose_confirmations_name_the_proposal_only_is_read_as_ever()
    {
        var (known, lost) = (Make(ProposalState.Confirmed), Make(ProposalState.Confirmed));
        await WriteAsync(JournalKinds.Proposal, JsonSerializer.Serialize(known.ToReply(), ApiJson.Options));
        foreach (var proposal in new[] { known, lost })
            await WriteAsync(JournalKinds.Confirmed, $$"""{"proposal":"{{proposal.Id}}","digest":"{{proposal.Digest}}","by":"engineer","at":"2026-07-25T19:59:00+00:00"}""");

        var (read, _) = Assert.Single(StartupReplay.Read(new LineReader(_journal), "bench", 24, Now));

        Assert.Equal((known.Id, ProposalState.Failed), (read.Id, read.State));
    }

    [Fact]
    public async Task What_became_of_a_proposal_after_its_confirmation_counts_for_more_than_what_was_confirmed()
    {
        var proposal = Make(ProposalState.Open);
        await WriteAsync(JournalKinds.Confirmed, Confirmed(proposal, shown: proposal.ToReply()));
        await WriteAsync(JournalKinds.Proposal, JsonSerializer.Serialize((proposal with { State = ProposalState.Applied }).ToReply(), ApiJson.Options));

        Assert.Equal(ProposalState.Applied, Assert.Single(StartupReplay.Read(new LineReader(_journal), "bench", 24, Now)).Proposal.State);
    }

    [Fact]
    public async Task The_last_word_about_a_proposal_counts_and_other_desks_are_left_out()
    {
        var proposal = Make(ProposalState.Open);
        await WriteAsync(JournalKinds.Proposal, JsonSerializer.Serialize(proposal.ToReply(), ApiJson.Options));
        await WriteAsync(JournalKinds.Proposal, JsonSerializer.Serialize((proposal with { State = ProposalState.Declined }).ToReply(), ApiJson.Options));

        Assert.Equal(ProposalState.Declined, Assert.Single(StartupReplay.Read(new LineReader(_journal), "bench", 24, Now)).Proposal.State);
        Assert.Empty(StartupReplay.Read(new LineReader(_journal), "other", 24, Now));
    }

    [Fact]
    public async Task What_an_input_was_that_the_desk_no_longer_has_is_left_in_the_journal()
    {
        var proposal = Make(ProposalState.Open);
        await WriteAsync(JournalKinds.Proposal, JsonSerializer.Serialize(proposal.ToReply(), ApiJson.Options));

        Assert.Single(StartupReplay.Read(new LineReader(_journal), "bench", proposal.Inputs.Max(), Now));
        Assert.Empty(StartupReplay.Read(new LineReader(_journal), "bench", proposal.Inputs.Max() - 1, Now));
    }

    [Fact]
    public async Task Only_the_last_ones_are_read_however_long_the_journal_is()
    {
        var proposals = Enumerable.Range(0, StartupReplay.Bound + 40).Select(_ => Make(ProposalState.Open)).ToList();
        foreach (var proposal in proposals)
            await WriteAsync(JournalKinds.Proposal, JsonSerializer.Serialize(proposal.ToReply(), ApiJson.Options));
        var reader = new CountingReader(_journal);

        var read = StartupReplay.Read(new LineReader(reader), "bench", 24, Now);

        Assert.Equal(proposals.TakeLast(StartupReplay.Bound).Select(one => one.Id), read.Select(one => one.Proposal.Id));
        Assert.InRange(reader.Read, StartupReplay.Bound, StartupReplay.Bound + 1);
    }

    [Theory]
    [InlineData("""{"proposal":"ID","digest":""")]
    [InlineData("""{"proposal":"ID","digest":"00","by":"engineer","at":"last night"}""")]
    [InlineData("""{"proposal":"ID","digest":"00","by":"engineer","at":"2026-07-25T19:59:00+00:00","shown":{"id":"ID","kind":"fader"}}""")]
    [InlineData("""{"of":"a later version","about":["ID"]}""")]
    public async Task A_confirmation_that_cannot_be_read_still_counts_for_the_proposal_that_its_text_names(string body)
    {
        var (meant, other) = (Make(ProposalState.Open), Make(ProposalState.Open));
        foreach (var proposal in new[] { meant, other })
            await WriteAsync(JournalKinds.Proposal, JsonSerializer.Serialize(proposal.ToReply(), ApiJson.Options));
        Write(JournalKinds.Confirmed, body.Replace("ID", meant.Id.ToString(), StringComparison.Ordinal));

        var read = Read(out var unread);

        Assert.Equal([(meant.Id, ProposalState.Failed), (other.Id, ProposalState.Expired)], read.Select(one => (one.Id, one.State)));
        Assert.Equal(1, unread);
    }

    [Theory]
    [InlineData("""{"proposal":"ID""", 1)]
    [InlineData("""{"proposal":"ID","proposal":7}""", 1)]
    [InlineData("""["ID"]""", 1)]
    public async Task A_send_that_cannot_be_read_makes_the_proposal_that_its_text_names_unknown(string body, int lines)
    {
        var (meant, other) = (Make(ProposalState.Confirmed), Make(ProposalState.Confirmed));
        foreach (var proposal in new[] { meant, other })
        {
            await WriteAsync(JournalKinds.Proposal, JsonSerializer.Serialize(proposal.ToReply(), ApiJson.Options));
            await WriteAsync(JournalKinds.Confirmed, Confirmed(proposal, shown: null));
        }

        Write(JournalKinds.Sending, body.Replace("ID", meant.Id.ToString(), StringComparison.Ordinal));

        var read = Read(out var unread);

        Assert.Equal([(meant.Id, ProposalState.Unknown), (other.Id, ProposalState.Failed)], read.Select(one => (one.Id, one.State)));
        Assert.Equal(lines, unread);
    }

    [Theory]
    [InlineData(JournalKinds.Confirmed, "null")]
    [InlineData(JournalKinds.Confirmed, "")]
    [InlineData(JournalKinds.Sending, "{}")]
    [InlineData(JournalKinds.Sending, "\0\0\0")]
    public async Task One_that_names_no_proposal_makes_unknown_what_was_left_before_it_and_nothing_else(string kind, string body)
    {
        var (open, confirmed, applied, later) = (Make(ProposalState.Open), Make(ProposalState.Confirmed), Make(ProposalState.Applied), Make(ProposalState.Open));
        foreach (var proposal in new[] { open, confirmed, applied })
            await WriteAsync(JournalKinds.Proposal, JsonSerializer.Serialize(proposal.ToReply(), ApiJson.Options));
        Write(kind, body);
        Write(JournalKinds.Proposal, JsonSerializer.Serialize(later.ToReply(), ApiJson.Options));

        var read = Read(out var unread);

        Assert.Equal(
            [(open.Id, ProposalState.Unknown), (confirmed.Id, ProposalState.Unknown), (applied.Id, ProposalState.Applied), (later.Id, ProposalState.Expired)],
            read.Select(one => (one.Id, one.State)));
        Assert.Equal(1, unread);
        Assert.DoesNotContain(read, one => one.IsOpen);
    }

    [Fact]
    public async Task Of_a_proposal_whose_last_line_cannot_be_read_the_line_before_counts_and_what_was_sent_is_asked_for()
    {
        var proposal = Make(ProposalState.Confirmed);
        await WriteAsync(JournalKinds.Proposal, JsonSerializer.Serialize(proposal.ToReply(), ApiJson.Options));
        await WriteAsync(JournalKinds.Confirmed, Confirmed(proposal, shown: null));
        await WriteAsync(JournalKinds.Sending, JsonSerializer.Serialize(new SendingBody(proposal.Id), GateJournalJson.Lines.SendingBody));
        Write(JournalKinds.Proposal, JsonSerializer.Serialize((proposal with { State = ProposalState.Applied }).ToReply(), ApiJson.Options)[..^20]);

        Assert.Equal(ProposalState.Unknown, Assert.Single(Read(out _)).State);
    }

    [Theory]
    [InlineData("\"inputs\":[1]", "\"inputs\":[]")]
    [InlineData("\"from\":20", "\"from\":true")]
    [InlineData("\"kind\":\"trim\"", "\"kind\":\"mute\"")]
    public void A_proposal_that_means_nothing_is_left_out(string was, string now)
    {
        var body = JsonSerializer.Serialize(Make(ProposalState.Applied).ToReply(), ApiJson.Options);
        Assert.Contains(was, body, StringComparison.Ordinal);
        Write(JournalKinds.Proposal, body.Replace(was, now, StringComparison.Ordinal));

        Assert.Empty(Read(out var unread));
        Assert.Equal(1, unread);
    }

    // As a hand, or a disk, would write it: the journal itself takes nothing but JSON.
    private void Write(string kind, string body) => _odd.Add(new(_journal.LastPosition + _odd.Count + 1, new NewEntry(Guid.NewGuid(), Now.Utc, "bench", kind, 1, body)));

    private IReadOnlyList<Proposal> Read(out int unread)
    {
        var lines = new LineReader(new LineList([.. _journal.ReadAfter(0), .. _odd]));
        var read = StartupReplay.Read(lines, "bench", 24, Now);
        unread = lines.Unread;
        return [.. read.Select(one => one.Proposal)];
    }

    private static Proposal Make(ProposalState state)
    {
        var id = Guid.NewGuid();
        var (from, to) = (SettingValue.Gain(20), SettingValue.Gain(14));
        return new Proposal
        {
            Id = id,
            Desk = "bench",
            Inputs = [1],
            Kind = ProposalKind.Trim,
            From = from,
            To = to,
            Reason = Saying.Plain("because"),
            Evidence = new ProposalEvidence(),
            Affects = [],
            Needs = [],
            State = state,
            Digest = ProposalDigest.Of(id, "bench", [1], null, ProposalKind.Trim, from, to, 1),
            CreatedAt = Now,
            ExpiresAt = Now.After(ProposalLife.Trim),
            SequenceId = id,
        };
    }

    private static string Confirmed(Proposal proposal, ProposalReply? shown) =>
        JsonSerializer.Serialize(new ConfirmedBody(proposal.Id, proposal.Digest, "engineer", Now.Utc, shown), GateJournalJson.Lines.ConfirmedBody);

    private Task<AppendResult> WriteAsync(string kind, string body) =>
        _journal.AppendAsync(new NewEntry(Guid.NewGuid(), Now.Utc, "bench", kind, 1, body), CancellationToken.None);

    private sealed class CountingReader(IJournalReader journal) : IJournalReader
    {
        public int Read { get; private set; }

        public long LastPosition => journal.LastPosition;

        public IEnumerable<JournalEntry> ReadAfter(long position, params IReadOnlyCollection<string> kinds) => Count(journal.ReadAfter(position, kinds));

        public IEnumerable<JournalEntry> ReadBack(params IReadOnlyCollection<string> kinds) => Count(journal.ReadBack(kinds));

        private IEnumerable<JournalEntry> Count(IEnumerable<JournalEntry> entries)
        {
            foreach (var entry in entries)
            {
                Read++;
                yield return entry;
            }
        }
    }
}
