using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using TrimAssist.Core.Acts;
using TrimAssist.Core.Journal;
using TrimAssist.Journal;
using TrimAssist.Service.Acts;
using TrimAssist.Service.Contract;
using TrimAssist.Service.Failures;
using TrimAssist.Service.Loops;

namespace TrimAssist.Service.Api;

/// <summary>Acts: the running order, coming on, the review of an act's last trims; and what was learned of players.</summary>
internal static class ActsApi
{
    public static void Map(IEndpointRouteBuilder api)
    {
        api.MapGet("/desks/{desk}/acts", ListAsync).WithSummary("The running order, with the input lists.");
        api.MapPost("/desks/{desk}/acts", AddAsync).Accepts<string>("text/csv").WithSummary("Takes in an input list (CSV); ?name= where the list gives no name. Rows that cannot be used are named.");
        api.MapPost("/desks/{desk}/acts/{act}/begin", BeginAsync).WithSummary("The act comes on.");
        api.MapPost("/desks/{desk}/acts/end", EndAsync).WithSummary("The act that is on goes off.");
        api.MapPost("/desks/{desk}/acts/{act}/recall", RecallAsync).WithSummary("Proposes the trims of the act's last show, to be reviewed and confirmed one by one. Sets nothing.");
        api.MapGet("/players", Players).WithSummary("What was learned of each player.");
        api.MapDelete("/players/{player}", ForgetAsync).WithSummary("Forgets a player.");
    }

    internal static async Task<Results<Ok<IReadOnlyList<ActReply>>, ProblemHttpResult>> ListAsync(string desk, DeskHosts desks)
    {
        if (desks.Find(desk) is not { } host)
            return Problems.NotFound("desk");
        var (order, current) = await host.AskAsync(assistant => (assistant.Acts.Order.ToList(), assistant.Acts.Current));
        return TypedResults.Ok<IReadOnlyList<ActReply>>([.. order.Select(act => act.ToReply(ReferenceEquals(act, current)))]);
    }

    internal static async Task<Results<Created<ListReply>, ProblemHttpResult>> AddAsync(string desk, string? name, HttpRequest request, DeskHosts desks)
    {
        if (desks.Find(desk) is not { } host)
            return Problems.NotFound("desk");
        using var body = new MemoryStream();
        await request.Body.CopyToAsync(body, request.HttpContext.RequestAborted);
        var taken = await TakeInAsync(host, body.ToArray(), name);
        switch (taken.Fate)
        {
            case ListFate.NoRoom:
                return Problems.BadRequest("too-many-acts", $"A running order holds {ActStage.Bound} acts.");
            case ListFate.NotWritten:
                return Problems.JournalUnavailable("changed");
            default:
                break;
        }

        if (taken.Act is not { } act)
            return Problems.BadRequest("bad-list", string.Join("; ", taken.Problems.Take(10).Select(problem => problem.ToString())));
        var on = await host.AskAsync(assistant => ReferenceEquals(assistant.Acts.Current, act));
        return TypedResults.Created($"/api/desks/{desk}/acts", new ListReply(act.ToReply(on), [.. taken.Problems.Take(100)]));
    }

    /// <summary>Takes an input list into a desk's running order.</summary>
    /// <param name="host">The desk.</param>
    /// <param name="list">The file.</param>
    /// <param name="name">The act's name where the list gives none.</param>
    internal static async Task<TakenList> TakeInAsync(DeskHost host, byte[] list, string? name)
    {
        var reading = InputListReader.Read(list, name is { Length: > 0 and <= 100 } ? name : "unnamed act", host.Description.Inputs);
        var fate = reading.Act is { } act ? await host.TakeInAsync(act) : ListFate.NothingUsable;
        // A file's name means nothing to whoever is elsewhere.
        var chains = reading.Chains.Select(chain => new ListProblem(chain.Row, ListColumns.Chain, ListSayings.ListChain(chain.File, chain.Input)));
        return new(fate, reading.Act, [.. reading.Problems.Concat(chains).OrderBy(problem => problem.Row)]);
    }

    internal static async Task<Results<Ok<ActReply>, ProblemHttpResult>> BeginAsync(string desk, string act, DeskHosts desks)
    {
        if (desks.Find(desk) is not { } host)
            return Problems.NotFound("desk");
        var begun = await host.AskAsync(assistant =>
        {
            var found = assistant.Acts.Find(act);
            if (found is not null)
                assistant.BeginAct(found, host.Now());
            return found;
        });
        return begun is null ? Problems.NotFound("act") : TypedResults.Ok(begun.ToReply(true));
    }

    internal static async Task<Results<NoContent, ProblemHttpResult>> EndAsync(string desk, DeskHosts desks)
    {
        if (desks.Find(desk) is not { } host)
            return Problems.NotFound("desk");
        await host.AskAsync(assistant =>
        {
            assistant.EndAct(host.Now());
            return true;
        });
        return TypedResults.NoContent();
    }

    internal static async Task<Results<Ok<RecallReply>, ProblemHttpResult>> RecallAsync(string desk, string act, DeskHosts desks, ShowMemory shows)
    {
        if (desks.Find(desk) is not { } host)
            return Problems.NotFound("desk");
        return await host.RecallAsync(act, shows) is not { } recalled ? Problems.NotFound("act") : TypedResults.Ok(new RecallReply(recalled.Act.Name,
        [
            .. recalled.Inputs.Select(one => new RecalledReply(
                one.Input.Line.Input, one.Input.Line.Name, ReplyMapping.Level(one.Input.Was?.TrimDb), ReplyMapping.Level(one.Input.DifferenceDb), one.Input.Note,
                one.Proposal?.ToReply())),
        ]));
    }

    internal static Ok<IReadOnlyList<PlayerReply>> Players(ShowMemory shows) => TypedResults.Ok<IReadOnlyList<PlayerReply>>(
        [.. shows.Players().Select(one => new PlayerReply(one.Player, one.Kind, one.Shows, Math.Round(one.Allowance.Db, 1), Math.Round(one.Allowance.SpreadDb, 1), one.Allowance.Basis))]);

    internal static async Task<Results<Ok<ForgottenReply>, ProblemHttpResult>> ForgetAsync(string player, ShowMemory shows, IJournal journal, TimeProvider time)
    {
        if (!shows.Players().Any(one => PlayerName.IsSame(one.Player, player)))
            return Problems.NotFound("player");
        var now = time.GetUtcNow();
        var written = await journal.AppendAsync(
            new NewEntry(Guid.CreateVersion7(now), now, null, JournalKinds.PlayerForgotten, 1, JsonSerializer.Serialize(new PlayerBody(player), ActsJson.Default.PlayerBody)),
            CancellationToken.None);
        return written.Durable
            ? TypedResults.Ok(new ForgottenReply(player, shows.Forget(player), "No longer used. To erase the name from the disk, stop the service and run: trimassist forget-player."))
            : Problems.JournalUnavailable("forgotten");
    }
}
