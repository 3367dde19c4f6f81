using Microsoft.AspNetCore.Http.HttpResults;
using TrimAssist.Core.Gate;
using TrimAssist.Core.Proposals;
using TrimAssist.Service.Loops;

namespace TrimAssist.Service.Api;

/// <summary>Proposals: look, confirm, decline.</summary>
internal static class ProposalsApi
{
    /// <summary>How many dangers a confirmation may name; there are not that many.</summary>
    private const int MaxAcknowledge = 16;

    public static void Map(IEndpointRouteBuilder api)
    {
        api.MapGet("/proposals", ListAsync).WithSummary("All proposals, newest first; ?state=open for the open ones.");
        api.MapGet("/proposals/{id:guid}", GetAsync);
        api.MapPost("/proposals/{id:guid}/confirm", ConfirmAsync).WithSummary("Confirms exactly what was shown, by its digest.");
        api.MapPost("/proposals/{id:guid}/decline", DeclineAsync);
    }

    internal static async Task<Results<Ok<IReadOnlyList<ProposalReply>>, ProblemHttpResult>> ListAsync(DeskHosts desks, string? state)
    {
        ProposalState? wanted = null;
        if (state is not null)
        {
            if (!Enum.TryParse<ProposalState>(state, ignoreCase: true, out var parsed) || int.TryParse(state, out _))
                return Problems.BadRequest("bad-state", "state is one of open, confirmed, applied, failed, unknown, declined, expired, superseded.");
            wanted = parsed;
        }

        var all = await Task.WhenAll(desks.All.Select(desk => desk.AskAsync(
            assistant => assistant.Book.All.Where(one => wanted is null || one.State == wanted).ToList())));
        return TypedResults.Ok<IReadOnlyList<ProposalReply>>(
            [.. all.SelectMany(one => one).OrderByDescending(one => one.CreatedAt.Elapsed).Select(one => one.ToReply())]);
    }

    internal static async Task<Results<Ok<ProposalReply>, ProblemHttpResult>> GetAsync(Guid id, DeskHosts desks) =>
        await FindAsync(id, desks) is { } found ? TypedResults.Ok(found.Proposal.ToReply()) : Problems.NotFound("proposal");

    internal static async Task<Results<Ok<ProposalReply>, ProblemHttpResult>> ConfirmAsync(Guid id, ConfirmRequest request, DeskHosts desks)
    {
        if (await FindAsync(id, desks) is not { } found)
            return Problems.NotFound("proposal");
        if (request.Digest is not { Length: > 0 } digest)
            return Problems.BadRequest("digest-missing", "A confirmation names the digest of what was shown.");
        if (request.Acknowledge?.Count > MaxAcknowledge)
            return Problems.BadRequest("bad-acknowledge", "Too many words in acknowledge.");
        var answer = await found.Desk.ConfirmAsync(new Confirmation(id, digest, request.Acknowledge ?? [], "engineer"));
        return answer is { Code: GateCode.Accepted or GateCode.AlreadyConfirmed, Proposal: { } proposal }
            ? TypedResults.Ok(proposal.ToReply())
            : Problems.Of(answer.Code);
    }

    internal static async Task<Results<Ok<ProposalReply>, ProblemHttpResult>> DeclineAsync(Guid id, DeskHosts desks)
    {
        if (await FindAsync(id, desks) is not { } found)
            return Problems.NotFound("proposal");
        var proposal = await found.Desk.AskAsync(assistant => assistant.Decline(id, found.Desk.Now()));
        return proposal is { State: ProposalState.Declined } ? TypedResults.Ok(proposal.ToReply()) : Problems.Of(GateCode.NotOpen);
    }

    private static async Task<(DeskHost Desk, Proposal Proposal)?> FindAsync(Guid id, DeskHosts desks)
    {
        foreach (var desk in desks.All)
        {
            if (await desk.AskAsync(assistant => assistant.Book.Find(id)) is { } proposal)
                return (desk, proposal);
        }

        return null;
    }
}
