using System.Text;
using Microsoft.AspNetCore.Http.HttpResults;
using TrimAssist.Core.Chain;
using TrimAssist.Service.ChainFiles;
using TrimAssist.Service.Contract;
using TrimAssist.Service.Failures;
using TrimAssist.Service.Loops;

namespace TrimAssist.Service.Api;

/// <summary>The signal chain before an input: told, looked at, forgotten. What is heard is judged by it; nothing is ever sent for it.</summary>
internal static class ChainsApi
{
    public static void Map(IEndpointRouteBuilder api)
    {
        api.MapPut("/desks/{desk}/inputs/{input:int}/chain", PutAsync).Accepts<string>("application/toml").WithSummary("Tells the chain before an input (the TOML of trimassist chain); ?act= for one act, else whatever act is on.");
        api.MapGet("/desks/{desk}/inputs/{input:int}/chain", GetAsync).WithSummary("The chain by which an input is judged now; ?act= for the one by which it is judged in an act.");
        api.MapDelete("/desks/{desk}/inputs/{input:int}/chain", DeleteAsync).WithSummary("Forgets the chain before an input; ?act= for one act's.");
    }

    internal static async Task<Results<Ok<ChainReply>, ProblemHttpResult>> PutAsync(string desk, int input, string? act, HttpRequest request, DeskHosts desks, GateJournal journal)
    {
        if (Find(desk, input, desks) is not { } host)
            return Problems.NotFound("input");
        using var body = new StreamReader(request.Body, Encoding.UTF8);
        var toml = await body.ReadToEndAsync(request.HttpContext.RequestAborted);
        var read = ChainFileReader.Read(toml, "chain");
        if (read.Chain is not { } chain)
            return Problems.BadRequest("bad-chain", string.Join("; ", read.Errors.Take(10).Select(error => error.ToString())));
        return await TellAsync(host, act, input, chain, toml, journal) is { } refused ? refused : TypedResults.Ok(Reply(input, chain, ChainDoubts.Of(chain)));
    }

    internal static async Task<Results<Ok<ChainReply>, ProblemHttpResult>> GetAsync(string desk, int input, string? act, DeskHosts desks)
    {
        if (Find(desk, input, desks) is not { } host)
            return Problems.NotFound("input");
        return await host.AskAsync(assistant => assistant.Acts.ChainOf(input, act ?? assistant.Acts.Current?.Name)) is { } chain ? TypedResults.Ok(Reply(input, chain, [])) : Problems.NotFound("chain");
    }

    internal static async Task<Results<NoContent, ProblemHttpResult>> DeleteAsync(string desk, int input, string? act, DeskHosts desks, GateJournal journal)
    {
        if (Find(desk, input, desks) is not { } host)
            return Problems.NotFound("input");
        return await TellAsync(host, act, input, null, null, journal) is { } refused ? refused : TypedResults.NoContent();
    }

    // Written down first: what is answered as told must be there after a restart.
    private static async Task<ProblemHttpResult?> TellAsync(DeskHost host, string? act, int input, SignalChain? chain, string? toml, GateJournal journal)
    {
        // A chain of an act that is in no running order any more can still be forgotten.
        if (chain is not null && act is not null && await host.AskAsync(assistant => assistant.Acts.Find(act)) is null)
            return Problems.NotFound("act");
        if (!await journal.ChainToldAsync(host.Description.Id, ChainMemory.Body(act, input, toml)))
            return Problems.JournalUnavailable("changed");
        await host.AskAsync(assistant =>
        {
            assistant.Acts.Carry(act, input, chain);
            return true;
        });
        return null;
    }

    private static DeskHost? Find(string desk, int input, DeskHosts desks) =>
        desks.Find(desk) is { } host && input >= 1 && input <= host.Description.Inputs ? host : null;

    private static ChainReply Reply(int input, SignalChain chain, IReadOnlyList<string> problems) => new(input, [.. chain.Stages.Select(stage => stage.Name)], problems);
}
