using System.Globalization;
using Microsoft.AspNetCore.Http.HttpResults;
using TrimAssist.Core.Assist;
using TrimAssist.Core.Gate;
using TrimAssist.Core.Proposals;
using TrimAssist.Service.Clocks;
using TrimAssist.Service.Contract;
using TrimAssist.Service.Failures;
using TrimAssist.Service.Loops;
using TrimAssist.Service.Security;

namespace TrimAssist.Service.Api;

/// <summary>Proposals: look, confirm, decline.</summary>
internal static class ProposalsApi
{
    /// <summary>How many dangers a confirmation may name; there are not that many.</summary>
    private const int MaxAcknowledge = 16;

    /// <summary>A picture cannot be older than a day: what says so has another unit.</summary>
    private const double LongestPictureAgeMs = 86_400_000;

    /// <summary>The answer's header that carries the stamp of the picture, to be named by a confirmation as <c>picture</c>.</summary>
    private const string PictureHeader = "Picture";

    public static void Map(IEndpointRouteBuilder api)
    {
        api.MapGet("/proposals", ListAsync).WithSummary("All proposals, newest first; ?state=open for the open ones.");
        api.MapGet("/proposals/{id:guid}", GetAsync);
        api.MapPost("/proposals/{id:guid}/confirm", ConfirmAsync).WithSummary("Confirms exactly what was shown, by its digest.");
        api.MapPost("/proposals/{id:guid}/decline", DeclineAsync);
        api.MapPost("/proposals/{id:guid}/undo", UndoAsync).WithSummary("Proposes the way back from an applied change; answers the new proposal.");
        api.MapPost("/proposals/{id:guid}/mute-first", MuteFirstAsync).WithSummary("Proposes to mute a proposal's inputs before it; answers the mute proposal.");
    }

    internal static async Task<Results<Ok<IReadOnlyList<ProposalReply>>, ProblemHttpResult>> ListAsync(
        DeskHosts desks, string? state, PictureClock pictures, HttpContext context)
    {
        context.Response.Headers[PictureHeader] = Number(pictures.Stamp());
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

    internal static async Task<Results<Ok<ProposalReply>, ProblemHttpResult>> GetAsync(Guid id, DeskHosts desks, PictureClock pictures, HttpContext context)
    {
        context.Response.Headers[PictureHeader] = Number(pictures.Stamp());
        return await FindAsync(id, desks) is { } found ? TypedResults.Ok(found.Proposal.ToReply()) : Problems.NotFound("proposal");
    }

    internal static async Task<Results<Ok<ProposalReply>, ProblemHttpResult>> ConfirmAsync(
        Guid id, ConfirmRequest request, DeskHosts desks, PictureClock pictures, HttpContext context)
    {
        if (await FindAsync(id, desks) is not { } found)
            return Problems.NotFound("proposal");
        if (request.Digest is not { Length: > 0 } digest)
            return Problems.BadRequest("digest-missing", "A confirmation names the digest of what was shown.");
        if (request.Acknowledge?.Count > MaxAcknowledge)
            return Problems.BadRequest("bad-acknowledge", "Too many words in acknowledge.");
        if (request.PictureAgeMs is { } age && !(age >= 0 && age <= LongestPictureAgeMs))
            return Problems.BadRequest("bad-picture-age", "pictureAgeMs is a number of milliseconds from 0 up.");
        var caller = Caller.Of(context);
        if (!caller.IsAt(found.Desk.Description.Id))
            return Problems.Of(GateCode.NotAllowed);
        var answer = await found.Desk.ConfirmAsync(new Confirmation(id, digest, request.Acknowledge ?? [], caller.Name, PictureAge(request, pictures), caller.Limits));
        return answer is { Code: GateCode.Accepted or GateCode.AlreadyConfirmed, Proposal: { } proposal }
            ? TypedResults.Ok(proposal.ToReply())
            : Problems.Of(answer.Code);
    }

    // The page's clock cannot know how long the network held the confirmation up, the service's own stamp cannot know how long a picture stood unseen.
    private static TimeSpan? PictureAge(ConfirmRequest request, PictureClock pictures)
    {
        var told = request.PictureAgeMs is { } ms ? TimeSpan.FromMilliseconds(ms) : (TimeSpan?)null;
        var stamped = request.Picture is { } stamp ? pictures.AgeOf(stamp) ?? TimeSpan.MaxValue : (TimeSpan?)null;
        return told > stamped ? told : stamped ?? told;
    }

    private static string Number(long stamp) => stamp.ToString(CultureInfo.InvariantCulture);

    internal static async Task<Results<Ok<ProposalReply>, ProblemHttpResult>> DeclineAsync(Guid id, DeskHosts desks, HttpContext context)
    {
        if (await FindAsync(id, desks) is not { } found)
            return Problems.NotFound("proposal");
        var caller = Caller.Of(context);
        if (!caller.IsAt(found.Desk.Description.Id) || (caller.Limits is { } limits && !found.Proposal.Inputs.All(limits.Inputs.Contains)))
            return Problems.Of(GateCode.NotAllowed);
        var proposal = await found.Desk.AskAsync(assistant => assistant.Decline(id, found.Desk.Now()));
        return proposal is { State: ProposalState.Declined } ? TypedResults.Ok(proposal.ToReply()) : Problems.Of(GateCode.NotOpen);
    }

    internal static async Task<Results<Created<ProposalReply>, ProblemHttpResult>> UndoAsync(Guid id, DeskHosts desks)
    {
        if (await FindAsync(id, desks) is not { } found)
            return Problems.NotFound("proposal");
        var (answer, proposal) = await found.Desk.AskAsync(assistant => assistant.Undo(id, found.Desk.Now()));
        return answer switch
        {
            WayBack.Proposed => Made(proposal!),
            WayBack.NotApplied => Problems.Conflict("not-applied", "It was not applied: there is nothing to take back."),
            WayBack.ValueMoved => Problems.Conflict("value-moved", "The desk no longer has the value that was applied."),
            WayBack.PatchUnderWay => Problems.Conflict("patch-under-way", "A safe patch of this input is under way: it stays muted until that is over."),
            WayBack.NoIncreaseNow => Problems.Conflict("no-increase", "The way back is an increase, and none is proposed during the show."),
            _ => Problems.NotFound("proposal"),
        };
    }

    internal static async Task<Results<Created<ProposalReply>, ProblemHttpResult>> MuteFirstAsync(Guid id, DeskHosts desks)
    {
        if (await FindAsync(id, desks) is not { } found)
            return Problems.NotFound("proposal");
        return await found.Desk.AskAsync(assistant => assistant.MuteFirst(id, found.Desk.Now())) is { } mute
            ? Made(mute)
            : Problems.Conflict("no-mute", "There is nothing to mute: it is muted, the desk has not said, or its profile has no mute.");
    }

    private static Created<ProposalReply> Made(Proposal proposal) => TypedResults.Created($"/api/proposals/{proposal.Id}", proposal.ToReply());

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
