using TrimAssist.Core.Acts;
using TrimAssist.Core.Proposals;

namespace TrimAssist.Service.Acts;

/// <summary>One input of a recalled act.</summary>
/// <param name="Input">What is to be said of it.</param>
/// <param name="Proposal">The proposal that was made of it; <see langword="null"/> where none was.</param>
public sealed record Recalled(RecalledInput Input, Proposal? Proposal);

/// <summary>An act whose last show's trims were recalled: proposed, never set.</summary>
/// <param name="Act">The act.</param>
/// <param name="Inputs">Its inputs, differences first.</param>
public sealed record RecalledAct(Act Act, IReadOnlyList<Recalled> Inputs);
