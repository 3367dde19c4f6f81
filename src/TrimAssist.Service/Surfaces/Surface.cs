using TrimAssist.Core.Alarms;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Gate;
using TrimAssist.Core.Proposals;
using TrimAssist.Service.Failures;
using TrimAssist.Service.Loops;
using TrimAssist.Service.Security;

namespace TrimAssist.Service.Surfaces;

/// <summary>One control surface before its desk: what it shows, and what its presses come to. They go the way that a confirmation over HTTP goes.</summary>
/// <param name="options">The surface.</param>
/// <param name="host">The desk.</param>
internal sealed class Surface(SurfaceOptions options, DeskHost host)
{
    private readonly SurfaceBoard _board = new(options.Slots);

    /// <summary>How the desk's link stood when the slots were last looked at.</summary>
    public LinkState Link { get; private set; } = LinkState.Connecting;

    /// <summary>Looks at what is open now.</summary>
    /// <returns>What the surface is to show.</returns>
    public async Task<SurfacePicture> LookAsync()
    {
        var (open, alarms, patches, link) = await host.AskAsync(assistant => (
            assistant.Book.Open.Where(IsOwn).OrderBy(one => one.CreatedAt.Elapsed).ToList(),
            assistant.Alarms.All.Where(one => one.State is AlarmState.Unacknowledged or AlarmState.Returned).OrderBy(one => one.At.Elapsed).ToList(),
            assistant.Patches.UnderWay.SelectMany(patch => patch.Inputs).Order().ToList(),
            assistant.Link));
        Link = link;
        _board.Put(open, options.Role == Role.Engineer ? alarms : []);
        return _board.Picture(host.Now().Elapsed, patches);
    }

    /// <summary>The picture has left for the surface, or could not.</summary>
    public void Told(bool left)
    {
        if (left)
            _board.Left(host.Now().Elapsed);
        else
            _board.NotLeft();
    }

    /// <summary>Does what a press asks for, if what it answers was shown.</summary>
    /// <returns>What came of it, in one word.</returns>
    public Task<string> TakeAsync(Press press) => press.Kind switch
    {
        PressKind.Patch => PatchAsync(press.Number),
        PressKind.Acknowledge => AcknowledgeAsync(),
        _ when options.Role == Role.Stage => Task.FromResult("not-allowed"),
        PressKind.Confirm => ConfirmAsync(press.Number),
        _ => DeclineAsync(press.Number),
    };

    private bool IsOwn(Proposal proposal) => options.Role == Role.Engineer && options.Inputs is null
        || (options.Role != Role.Stage && options.Inputs is { } own && proposal.Inputs.All(own.Contains));

    private async Task<string> ConfirmAsync(int slot)
    {
        var state = _board.Look(slot, host.Now().Elapsed, out var shown);
        if (state != SlotState.Ready)
            return OscFace.Word(state);
        var answer = await host.ConfirmAsync(new Confirmation(shown!.Id, shown.Digest, [], options.Caller.Name, Limits: options.Caller.Limits));
        return answer.Code switch
        {
            GateCode.Accepted or GateCode.AlreadyConfirmed => "confirmed",
            var refused => (string)Problems.Of(refused).ProblemDetails.Extensions["code"]!,
        };
    }

    private async Task<string> DeclineAsync(int slot)
    {
        var state = _board.Look(slot, host.Now().Elapsed, out var shown);
        if (shown is null)
            return OscFace.Word(state);
        // What was shown is declined, and nothing that took its place in the meantime.
        var declined = await host.AskAsync(assistant => assistant.Book.Find(shown.Id) is { IsOpen: true } ? assistant.Decline(shown.Id, host.Now()) : null);
        return declined is { State: ProposalState.Declined } ? "declined" : "not-open";
    }

    private async Task<string> AcknowledgeAsync()
    {
        if (_board.LookAtAlarm(host.Now().Elapsed) is not { } shown)
            return "wait";
        return await host.AskAsync(assistant =>
        {
            assistant.Alarms.Acknowledge(shown.Id);
            return "acknowledged";
        });
    }

    private async Task<string> PatchAsync(int input)
    {
        if (options.Inputs?.Contains(input) is false)
            return "not-allowed";
        if (input > host.Description.Inputs)
            return "no-input";
        if (host.Description.Mute is null)
            return "no-mute";
        return await host.AskAsync(assistant =>
        {
            if (assistant.Link != LinkState.Live)
                return "desk-not-live";
            assistant.AskForPatch(input, $"Asked for at {options.Name}.", host.Now());
            return "asked";
        });
    }
}
