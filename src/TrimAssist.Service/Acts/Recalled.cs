using TrimAssist.Core.Acts;
using TrimAssist.Core.Proposals;
using TrimAssist.Service.Loops;

namespace TrimAssist.Service.Acts;

/// <summary>One input of a recalled act.</summary>
/// <param name="Input">What is to be said of it.</param>
/// <param name="Proposal">The proposal that was made of it; <see langword="null"/> where none was.</param>
public sealed record Recalled(RecalledInput Input, Proposal? Proposal);

/// <summary>An act whose last show's trims were recalled: proposed, never set.</summary>
/// <param name="Act">The act.</param>
/// <param name="Inputs">Its inputs, differences first.</param>
public sealed record RecalledAct(Act Act, IReadOnlyList<Recalled> Inputs)
{
    /// <summary>Proposes the trims of an act's last show; each proposal is confirmed like any other. <see langword="null"/> where there is no such act.</summary>
    internal static Task<RecalledAct?> ProposeAsync(DeskHost host, ShowMemory shows, string act) => host.AskAsync(assistant => assistant.Acts.Find(act) is not { } found ? null : new RecalledAct(found,
    [
        .. assistant.RecallTrims(found, shows.LastShow(host.Description.Id, found.Name))
            .Select(one => new Recalled(one, one.Plan is { } plan ? assistant.Propose(plan, host.Now()) : null)),
    ]));
}
