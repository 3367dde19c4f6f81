using Microsoft.AspNetCore.Http.HttpResults;
using TrimAssist.Service.Contract;
using TrimAssist.Service.Failures;
using TrimAssist.Service.JournalLines;
using TrimAssist.Service.Loops;
using TrimAssist.Service.Security;

namespace TrimAssist.Service.Api;

/// <summary>Desks, their inputs, and the show watch.</summary>
internal static class DesksApi
{
    public static void Map(IEndpointRouteBuilder api)
    {
        api.MapGet("/health", Health).WithSummary("200 when serving; a silent desk shows here, the service stays up. \"degraded\" when a loop inside the service hangs.");
        api.MapGet("/desks", ListAsync);
        api.MapGet("/desks/{desk}", GetAsync);
        api.MapGet("/desks/{desk}/inputs", InputsAsync);
        api.MapPost("/desks/{desk}/watch", WatchAsync);
    }

    // Anybody may ask, as often as the network lets them: the desks' own loops are left alone.
    internal static Ok<HealthReply> Health(DeskHosts desks, GateJournal journal, LineReader earlier, Exposure exposure, Vitals vitals)
    {
        var faults = vitals.Faults;
        return TypedResults.Ok(new HealthReply(
            faults.Count == 0 ? "ok" : "degraded", faults, Version, journal.Trouble is null, journal.Trouble, earlier.Unread, [.. exposure.Warnings.Select(warning => warning.Name)],
            [.. desks.All.Select(desk => desk.LastDescribed).Select(desk => new DeskHealthReply(desk.Id, desk.State, desk.Reason))]));
    }

    internal static async Task<Ok<IReadOnlyList<DeskReply>>> ListAsync(DeskHosts desks) =>
        TypedResults.Ok<IReadOnlyList<DeskReply>>(await Task.WhenAll(desks.All.Select(desk => desk.DescribeAsync())));

    internal static async Task<Results<Ok<DeskReply>, ProblemHttpResult>> GetAsync(string desk, DeskHosts desks) =>
        desks.Find(desk) is { } host ? TypedResults.Ok(await host.DescribeAsync()) : Problems.NotFound("desk");

    internal static async Task<Results<Ok<IReadOnlyList<InputReply>>, ProblemHttpResult>> InputsAsync(string desk, DeskHosts desks)
    {
        if (desks.Find(desk) is not { } host)
            return Problems.NotFound("desk");
        var inputs = await host.AskAsync(assistant => Enumerable.Range(1, assistant.Desk.Inputs).Select(input => (Live: assistant.Input(input), assistant.Acts.Line(input)?.Source)).ToList());
        return TypedResults.Ok<IReadOnlyList<InputReply>>([.. inputs.Select(input => input.Live.ToReply(input.Source))]);
    }

    internal static async Task<Results<Ok<DeskReply>, ProblemHttpResult>> WatchAsync(string desk, WatchRequest request, DeskHosts desks)
    {
        if (desks.Find(desk) is not { } host)
            return Problems.NotFound("desk");
        if (request.On is not { } on)
            return Problems.BadRequest("on-missing", "Say {\"on\": true} or {\"on\": false}.");
        await host.WatchAsync(on);
        return TypedResults.Ok(await host.DescribeAsync());
    }

    private static string Version { get; } = typeof(DesksApi).Assembly.GetName().Version?.ToString(3) ?? "0";
}
