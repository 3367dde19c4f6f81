using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;

namespace TrimAssist.Core.Gate;

/// <summary>
/// The permission to send one change to one desk, once. Only the gate makes one, from an open proposal that somebody
/// confirmed by its digest. A class, because the default of a struct would be a permission that nobody granted.
/// </summary>
public sealed class ConfirmedChange
{
    internal ConfirmedChange(Guid proposal, string desk, IReadOnlyList<int> inputs, ProposalKind kind, SettingValue from, SettingValue to)
    {
        Proposal = proposal;
        Desk = desk;
        Inputs = inputs;
        Kind = kind;
        From = from;
        To = to;
    }

    /// <summary>The proposal that was confirmed.</summary>
    public Guid Proposal { get; }

    /// <summary>The desk's id.</summary>
    public string Desk { get; }

    /// <summary>The inputs to change: two for a linked pair.</summary>
    public IReadOnlyList<int> Inputs { get; }

    /// <summary>What is changed.</summary>
    public ProposalKind Kind { get; }

    /// <summary>The value that the desk must still have when the change is sent.</summary>
    public SettingValue From { get; }

    /// <summary>The value to send.</summary>
    public SettingValue To { get; }
}
