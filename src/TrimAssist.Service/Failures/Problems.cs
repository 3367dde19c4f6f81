using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Mvc;
using TrimAssist.Core.Gate;

namespace TrimAssist.Service.Failures;

/// <summary>Refusals as RFC 9457 problem documents with a stable <c>code</c>.</summary>
internal static class Problems
{
    public static ProblemHttpResult NotFound(string what) => Make(StatusCodes.Status404NotFound, "not-found", $"There is no such {what}.");

    public static ProblemHttpResult BadRequest(string code, string detail) => Make(StatusCodes.Status400BadRequest, code, detail);

    public static ProblemHttpResult NotAllowed(string detail) => Make(StatusCodes.Status403Forbidden, "not-allowed", detail);

    /// <summary>What was told could not be written down, and would be gone after a restart.</summary>
    /// <param name="done">What would have been done.</param>
    public static ProblemHttpResult JournalUnavailable(string done) => Make(
        StatusCodes.Status503ServiceUnavailable, "journal-unavailable", $"It could not be written down (the disk is full or gone), so nothing was {done}.");

    public static ProblemHttpResult Of(GateCode code) => code switch
    {
        GateCode.NotFound => NotFound("proposal"),
        GateCode.NotAllowed => NotAllowed("You may not confirm this."),
        GateCode.NotOpen => Conflict("not-open", "This proposal can no longer be confirmed."),
        GateCode.Expired => Conflict("expired", "The proposal's time is up."),
        GateCode.DigestMismatch => Conflict("digest-mismatch", "The confirmation names something other than what was shown."),
        GateCode.AcknowledgeNeeded => Conflict("acknowledge-needed", "The confirmation must name exactly the proposal's dangers."),
        GateCode.PictureStale => Conflict("picture-stale", "The picture that was confirmed is more than 2 s old: look again."),
        GateCode.DeskNotLive => Conflict("desk-not-live", "The link to the desk is not live."),
        GateCode.DeskSilent => Conflict(
            "desk-not-live", "The desk used to answer when it was asked for this value and does not now, so nothing was sent. Look at the desk and its network."),
        GateCode.ValueMoved => Conflict("value-moved", "The desk no longer has the value that the proposal started from."),
        GateCode.JournalUnavailable => Make(
            StatusCodes.Status503ServiceUnavailable, "journal-unavailable", "The confirmation could not be written down, so nothing was done."),
        _ => throw new ArgumentOutOfRangeException(nameof(code), code, "not a refusal"),
    };

    public static ProblemHttpResult Conflict(string code, string detail) => Make(StatusCodes.Status409Conflict, code, detail);

    public static ProblemHttpResult Make(int status, string code, string detail) => TypedResults.Problem(
        detail: detail, statusCode: status, title: code.Replace('-', ' '), type: TypeOf(code),
        extensions: new Dictionary<string, object?>(StringComparer.Ordinal) { ["code"] = code });

    /// <summary>
    /// The <c>type</c> that goes with a code: a relative reference with its whole path (RFC 9457, 3.1.1). It names the kind of problem and is not
    /// served; <c>docs/problems.md</c> tells them all.
    /// </summary>
    public static string TypeOf(string code) => $"/problems/{code}";

    /// <summary>Gives a refusal that came from the framework its code and type.</summary>
    public static void Complete(ProblemDetails problem)
    {
        var code = CodeOf(problem.Status);
        if (problem.Extensions.TryAdd("code", code))
            problem.Type = TypeOf(code);
    }

    private static string CodeOf(int? status) => status switch
    {
        StatusCodes.Status400BadRequest => "bad-request",
        StatusCodes.Status401Unauthorized => "credential-needed",
        StatusCodes.Status404NotFound => "not-found",
        StatusCodes.Status405MethodNotAllowed => "method-not-allowed",
        StatusCodes.Status413PayloadTooLarge => "too-large",
        StatusCodes.Status415UnsupportedMediaType => "json-needed",
        _ => "failed",
    };
}
