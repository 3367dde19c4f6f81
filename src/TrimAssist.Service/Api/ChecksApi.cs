using Microsoft.AspNetCore.Http.HttpResults;
using TrimAssist.Core.Checks;
using TrimAssist.Service.Contract;
using TrimAssist.Service.Failures;
using TrimAssist.Service.Loops;

namespace TrimAssist.Service.Api;

/// <summary>Sound checks: start, look, finish.</summary>
internal static class ChecksApi
{
    public static void Map(IEndpointRouteBuilder api)
    {
        api.MapPost("/desks/{desk}/checks", StartAsync);
        api.MapGet("/checks/{id:guid}", GetAsync);
        api.MapPost("/checks/{id:guid}/finish", FinishAsync).WithSummary("Ends the check and makes its proposals.");
    }

    internal static async Task<Results<Created<CheckReply>, ProblemHttpResult>> StartAsync(string desk, CheckRequest? request, DeskHosts desks)
    {
        if (desks.Find(desk) is not { } host)
            return Problems.NotFound("desk");
        var count = host.Description.Inputs;
        var inputs = request?.Inputs?.Distinct().Order().ToArray() ?? [.. Enumerable.Range(1, count)];
        if (inputs.Length == 0 || inputs[0] < 1 || inputs[^1] > count)
            return Problems.BadRequest("bad-inputs", $"inputs are numbers from 1 to {count}.");
        var reply = await host.AskAsync(assistant =>
        {
            var check = assistant.StartCheck(inputs, host.Now(), request?.Aim ?? CheckAim.Headroom);
            return check.ToReply(assistant.CheckResults(check.Id), assistant.Book, assistant.CheckSpread(check.Id));
        });
        return TypedResults.Created($"/api/checks/{reply.Id}", reply);
    }

    internal static async Task<Results<Ok<CheckReply>, ProblemHttpResult>> GetAsync(Guid id, DeskHosts desks)
    {
        foreach (var host in desks.All)
        {
            var reply = await host.AskAsync(assistant =>
                assistant.FindCheck(id)?.ToReply(assistant.CheckResults(id), assistant.Book, assistant.CheckSpread(id)));
            if (reply is not null)
                return TypedResults.Ok(reply);
        }

        return Problems.NotFound("check");
    }

    internal static async Task<Results<Ok<CheckReply>, ProblemHttpResult>> FinishAsync(Guid id, DeskHosts desks)
    {
        foreach (var host in desks.All)
        {
            var reply = await host.AskAsync(assistant =>
                assistant.FinishCheck(id, host.Now())?.ToReply(assistant.CheckResults(id), assistant.Book, assistant.CheckSpread(id)));
            if (reply is not null)
                return TypedResults.Ok(reply);
        }

        return Problems.NotFound("check");
    }
}
