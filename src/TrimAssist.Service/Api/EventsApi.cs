using System.Net.ServerSentEvents;
using System.Runtime.CompilerServices;
using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using TrimAssist.Core.Proposals;
using TrimAssist.Service.Contract;
using TrimAssist.Service.Events;
using TrimAssist.Service.Failures;
using TrimAssist.Service.Loops;
using TrimAssist.Service.Security;

namespace TrimAssist.Service.Api;

/// <summary>The event stream.</summary>
internal static class EventsApi
{
    public static void Map(IEndpointRouteBuilder api) => api.MapGet("/events", Stream)
        .WithSummary("Server-Sent Events: meters, proposal, alarm, desk, check, patch. Last-Event-ID resumes all but meters.");

    internal static Results<ServerSentEventsResult<string>, ProblemHttpResult> Stream(
        HttpContext context, EventHub hub, DeskHosts desks, IHostApplicationLifetime lifetime)
    {
        var lastId = context.Request.Headers["Last-Event-ID"].ToString();
        var client = hub.Join(lastId.Length > 0 ? lastId : null, out var snapshotNeeded, Caller.Of(context).Credential);
        if (client is null)
            return Problems.Make(StatusCodes.Status503ServiceUnavailable, "too-many-clients", "Too many clients follow the event stream.");
        context.Response.Headers["X-Accel-Buffering"] = "no";
        // A stream never ends by itself: it must not hold up the service when it stops.
        var ends = CancellationTokenSource.CreateLinkedTokenSource(context.RequestAborted, lifetime.ApplicationStopping);
        context.Response.RegisterForDispose(ends);
        return TypedResults.ServerSentEvents(ReadAsync(context, client, snapshotNeeded ? desks : null, hub, ends.Token));
    }

    private static async IAsyncEnumerable<SseItem<string>> ReadAsync(
        HttpContext context, EventClient client, DeskHosts? snapshotOf, EventHub hub, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        using (client)
        {
            // The head goes out at once: on a quiet desk the listener would otherwise not know that it is connected.
            await context.Response.StartAsync(cancellationToken);
            await context.Response.Body.FlushAsync(cancellationToken);
            // What was missed is no longer kept: everything as it stands now takes its place.
            if (snapshotOf is not null)
            {
                var id = hub.CurrentId;
                foreach (var (kind, json) in await SnapshotAsync(snapshotOf))
                    yield return new SseItem<string>(json, kind) { EventId = id };
            }

            await foreach (var item in client.ReadAsync(cancellationToken))
                yield return new SseItem<string>(item.Json, item.Kind) { EventId = item.Id };
        }
    }

    private static async Task<List<(string Kind, string Json)>> SnapshotAsync(DeskHosts desks)
    {
        var all = new List<(string, string)>();
        foreach (var desk in desks.All)
        {
            all.Add(("desk", JsonSerializer.Serialize(await desk.DescribeAsync(), ApiJson.Options)));
            var (proposals, alarms, patches, check) = await desk.AskAsync(assistant =>
                (assistant.Book.All.Reverse().ToList(), assistant.Alarms.All.Reverse().ToList(), assistant.Patches.All.ToList(), assistant.LatestCheck));
            all.AddRange(proposals.Select(one => ("proposal", JsonSerializer.Serialize(one.ToReply(), ApiJson.Options))));
            all.AddRange(alarms.Select(one => ("alarm", JsonSerializer.Serialize(one.ToReply(), ApiJson.Options))));
            all.AddRange(patches.Select(one => ("patch", JsonSerializer.Serialize(one.ToReply(lease: null), ApiJson.Options))));
            if (check is not null)
                all.Add(("check", JsonSerializer.Serialize(check.ToReply([], new ProposalBook(static _ => { })), ApiJson.Options)));
        }

        return all;
    }
}
