using Microsoft.AspNetCore.Http.HttpResults;
using TrimAssist.Core.Alarms;
using TrimAssist.Service.Contract;
using TrimAssist.Service.Failures;
using TrimAssist.Service.Loops;

namespace TrimAssist.Service.Api;

/// <summary>Alarms: look, acknowledge, shelve.</summary>
internal static class AlarmsApi
{
    public static void Map(IEndpointRouteBuilder api)
    {
        api.MapGet("/alarms", ListAsync).WithSummary("All alarms, newest first; ?state=active for those in the engineer's list.");
        api.MapGet("/alarms/groups", GroupsAsync).WithSummary("The active alarms, one line a cause, the most urgent first.");
        api.MapGet("/alarms/rates", RatesAsync).WithSummary("How many alarms there were, by the measures of IEC 62682.");
        api.MapPost("/alarms/{id:guid}/acknowledge", AcknowledgeAsync);
        api.MapPost("/alarms/{id:guid}/shelve", ShelveAsync);
    }

    internal static async Task<Results<Ok<IReadOnlyList<AlarmReply>>, ProblemHttpResult>> ListAsync(DeskHosts desks, string? state)
    {
        AlarmState? wanted = null;
        var active = string.Equals(state, "active", StringComparison.OrdinalIgnoreCase);
        if (state is not null && !active)
        {
            if (!Enum.TryParse<AlarmState>(state, ignoreCase: true, out var parsed) || int.TryParse(state, out _))
                return Problems.BadRequest("bad-state", "state is active or the name of a state.");
            wanted = parsed;
        }

        var all = await Task.WhenAll(desks.All.Select(desk => desk.AskAsync(assistant => assistant.Alarms.All
            .Where(alarm => active ? alarm.IsActive : wanted is null || alarm.State == wanted).ToList())));
        return TypedResults.Ok<IReadOnlyList<AlarmReply>>(
            [.. all.SelectMany(one => one).OrderByDescending(alarm => alarm.At.Elapsed).Select(alarm => alarm.ToReply())]);
    }

    internal static async Task<Ok<IReadOnlyList<AlarmGroupReply>>> GroupsAsync(DeskHosts desks)
    {
        var all = await Task.WhenAll(desks.All.Select(desk => desk.AskAsync(assistant => assistant.Alarms.All.Where(alarm => alarm.IsActive).ToList())));
        return TypedResults.Ok<IReadOnlyList<AlarmGroupReply>>([.. ShownGroup.Of(all.SelectMany(one => one)).Select(group => group.ToReply())]);
    }

    internal static async Task<Ok<IReadOnlyList<AlarmRatesReply>>> RatesAsync(DeskHosts desks) =>
        TypedResults.Ok<IReadOnlyList<AlarmRatesReply>>(await Task.WhenAll(desks.All.Select(async desk =>
            new AlarmRatesReply(desk.Description.Id, await desk.AskAsync(assistant => assistant.Alarms.Figures)))));

    internal static Task<Results<Ok<AlarmReply>, ProblemHttpResult>> AcknowledgeAsync(Guid id, DeskHosts desks) =>
        ChangeAsync(id, desks, (board, _) => board.Acknowledge(id));

    internal static async Task<Results<Ok<AlarmReply>, ProblemHttpResult>> ShelveAsync(Guid id, ShelveRequest request, DeskHosts desks) =>
        request.Minutes is { } minutes && minutes > 0 && minutes <= AlarmBoard.LongestShelving.TotalMinutes
            ? await ChangeAsync(id, desks, (board, now) => board.Shelve(id, TimeSpan.FromMinutes(minutes), now))
            : Problems.BadRequest("bad-minutes", $"minutes is more than 0 and at most {AlarmBoard.LongestShelving.TotalMinutes:0}.");

    private static async Task<Results<Ok<AlarmReply>, ProblemHttpResult>> ChangeAsync(
        Guid id, DeskHosts desks, Action<AlarmBoard, Core.Time.Moment> change)
    {
        foreach (var host in desks.All)
        {
            var alarm = await host.AskAsync(assistant =>
            {
                if (assistant.Alarms.Find(id) is not null)
                    change(assistant.Alarms, host.Now());
                return assistant.Alarms.Find(id);
            });
            if (alarm is not null)
                return TypedResults.Ok(alarm.ToReply());
        }

        return Problems.NotFound("alarm");
    }
}
