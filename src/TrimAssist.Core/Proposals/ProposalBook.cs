using TrimAssist.Core.Time;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Proposals;

/// <summary>
/// Every proposal of one desk and what became of it. One owner: the desk's loop. Closed ones are kept up to a bound.
/// </summary>
public sealed class ProposalBook
{
    /// <summary>How many proposals are remembered; the journal remembers the rest.</summary>
    public const int Bound = 1000;

    private readonly Dictionary<Guid, Proposal> _byId = [];
    private readonly LinkedList<Guid> _newestFirst = new();
    private readonly Action<Proposal> _changed;

    /// <summary>Makes an empty book.</summary>
    /// <param name="changed">Told of every new proposal and every change, in order.</param>
    public ProposalBook(Action<Proposal> changed) => _changed = changed;

    /// <summary>Every remembered proposal, newest first.</summary>
    public IEnumerable<Proposal> All => _newestFirst.Select(id => _byId[id]);

    /// <summary>The open ones, newest first.</summary>
    public IEnumerable<Proposal> Open => All.Where(proposal => proposal.IsOpen);

    /// <summary>The proposal with this id; <see langword="null"/> where there is none.</summary>
    public Proposal? Find(Guid id) => _byId.GetValueOrDefault(id);

    /// <summary>Takes in a new proposal. An older open one for the same control of the same input gives way to it.</summary>
    public void Add(Proposal proposal)
    {
        foreach (var older in Open.Where(other => SameControl(other, proposal)).ToList())
            Move(older.Id, ProposalState.Superseded, OutcomeSayings.ClosedNewer);
        _byId.Add(proposal.Id, proposal);
        _newestFirst.AddFirst(proposal.Id);
        Forget();
        _changed(proposal);
    }

    /// <summary>Takes in a proposal of an earlier run, closed: it is remembered, not announced.</summary>
    public void Recall(Proposal proposal)
    {
        if (_byId.TryAdd(proposal.Id, proposal))
            _newestFirst.AddFirst(proposal.Id);
        Forget();
    }

    /// <summary>Moves a proposal to another state.</summary>
    /// <returns>The proposal as it stands afterwards.</returns>
    public Proposal Move(Guid id, ProposalState state, Saying? outcome)
    {
        var moved = _byId[id] with { State = state, Outcome = outcome };
        _byId[id] = moved;
        _changed(moved);
        return moved;
    }

    /// <summary>Adds to what became of a proposal.</summary>
    public void Explain(Guid id, Saying more)
    {
        var explained = _byId[id] with { Outcome = Saying.Both(_byId[id].Outcome, more) };
        _byId[id] = explained;
        _changed(explained);
    }

    /// <summary>Gives an open proposal the dangers that it carries now.</summary>
    public void Renew(Guid id, IReadOnlyList<string> needs, IReadOnlyList<Saying> affects)
    {
        var proposal = _byId[id];
        if (!proposal.IsOpen || (proposal.Needs.SequenceEqual(needs, StringComparer.Ordinal) && proposal.Affects.SequenceEqual(affects)))
            return;
        var renewed = proposal with { Needs = needs, Affects = affects };
        _byId[id] = renewed;
        _changed(renewed);
    }

    /// <summary>Closes every open proposal whose time is up.</summary>
    public IReadOnlyList<Proposal> Expire(Moment now) =>
        [.. Open.Where(proposal => now.Elapsed >= proposal.ExpiresAt.Elapsed).ToList()
            .Select(proposal => Move(proposal.Id, ProposalState.Expired, OutcomeSayings.ClosedExpired))];

    private static bool SameControl(Proposal left, Proposal right) =>
        IsMute(left.Kind) == IsMute(right.Kind) && left.SequenceId != right.SequenceId && left.Inputs.Intersect(right.Inputs).Any();

    private static bool IsMute(ProposalKind kind) => kind is ProposalKind.Mute or ProposalKind.Unmute;

    private void Forget()
    {
        for (var node = _newestFirst.Last; node is not null && _byId.Count > Bound;)
        {
            var older = node.Previous;
            if (_byId[node.Value].State is not (ProposalState.Open or ProposalState.Confirmed or ProposalState.Unknown))
            {
                _byId.Remove(node.Value);
                _newestFirst.Remove(node);
            }

            node = older;
        }
    }
}
