using Microsoft.AspNetCore.Http.HttpResults;
using TrimAssist.Core.Assist;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Patch;
using TrimAssist.Service.Contract;
using TrimAssist.Service.Failures;
using TrimAssist.Service.Loops;

namespace TrimAssist.Service.Api;

/// <summary>Safe patches: the stage asks, looks, and says that it has plugged.</summary>
internal static class PatchApi
{
    /// <summary>The longest reason that is taken; it stands in one line before the engineer.</summary>
    private const int LongestReason = 200;

    public static void Map(IEndpointRouteBuilder api)
    {
        api.MapPost("/desks/{desk}/inputs/{input:int}/patch", AskAsync)
            .WithSummary("The stage asks for a safe patch: makes a mute proposal. 201; 200 where one is under way already.");
        api.MapGet("/desks/{desk}/inputs/{input:int}/patch", GetAsync)
            .WithSummary("The patch and its lease: expiresInMs counts from when the question was sent.");
        api.MapPost("/desks/{desk}/inputs/{input:int}/patch/done", DoneAsync).WithSummary("The stage has plugged.");
    }

    internal static async Task<Results<Created<PatchReply>, Ok<PatchReply>, ProblemHttpResult>> AskAsync(
        string desk, int input, PatchRequest? request, DeskHosts desks)
    {
        if (Find(desk, input, desks) is not { } host)
            return Problems.NotFound("input");
        var reason = request?.Reason?.Trim();
        if (reason?.Length > LongestReason || reason?.Any(char.IsControl) is true)
            return Problems.BadRequest("bad-reason", $"reason is one line of at most {LongestReason} characters.");
        if (host.Description.Mute is null)
            return Problems.Conflict("no-mute", "This desk's profile has no mute: no safe patch can be made.");
        return await host.AskAsync<Results<Created<PatchReply>, Ok<PatchReply>, ProblemHttpResult>>(assistant =>
        {
            var before = assistant.Patches.Find(input)?.Id;
            if (assistant.Link != LinkState.Live)
                return Problems.Of(Core.Gate.GateCode.DeskNotLive);
            var patch = assistant.AskForPatch(input, string.IsNullOrEmpty(reason) ? null : reason, host.Now());
            var reply = Reply(patch, assistant);
            return patch.Id == before ? TypedResults.Ok(reply) : TypedResults.Created($"/api/desks/{desk}/inputs/{input}/patch", reply);
        });
    }

    internal static async Task<Results<Ok<PatchReply>, ProblemHttpResult>> GetAsync(string desk, int input, DeskHosts desks) =>
        Find(desk, input, desks) is { } host && await host.AskAsync(assistant => Look(assistant, input, host.Now())) is { } reply
            ? TypedResults.Ok(reply)
            : Problems.NotFound("patch");

    internal static async Task<Results<Ok<PatchReply>, ProblemHttpResult>> DoneAsync(string desk, int input, DeskHosts desks)
    {
        if (Find(desk, input, desks) is not { } host)
            return Problems.NotFound("input");
        var reply = await host.AskAsync(assistant => assistant.Patches.Plugged(input) is { } patch ? Reply(patch, assistant) : null);
        return reply switch
        {
            null => Problems.NotFound("patch"),
            { State: PatchState.Waiting or PatchState.Lost } => Problems.Conflict(
                "patch-not-safe", $"Nobody said that it may be plugged. {reply.Text}"),
            _ => TypedResults.Ok(reply),
        };
    }

    private static DeskHost? Find(string desk, int input, DeskHosts desks) =>
        desks.Find(desk) is { } host && input >= 1 && input <= host.Description.Inputs ? host : null;

    // A state that no longer holds must not be told for want of a tick.
    private static PatchReply? Look(DeskAssistant assistant, int input, Core.Time.Moment now)
    {
        assistant.Patches.Look(assistant.Link, now);
        return assistant.Patches.Find(input) is { } patch ? Reply(patch, assistant) : null;
    }

    private static PatchReply Reply(SafePatch patch, DeskAssistant assistant) => patch.ToReply(assistant.Patches.Lease(patch));
}
