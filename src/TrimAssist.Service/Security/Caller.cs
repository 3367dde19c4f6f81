using TrimAssist.Core.Gate;

namespace TrimAssist.Service.Security;

/// <summary>Who asks.</summary>
/// <param name="Name">The name for the record.</param>
/// <param name="Role">What it may do.</param>
/// <param name="Inputs">Its own inputs; <see langword="null"/> for all.</param>
/// <param name="Credential">The credential that it came with; <see langword="null"/> for whoever needs none.</param>
/// <param name="Desk">The desk that its inputs are on; <see langword="null"/> for none.</param>
internal sealed record Caller(string Name, Role Role, IReadOnlyList<int>? Inputs, Guid? Credential, string? Desk = null)
{
    /// <summary>Whoever sits at the service's own machine.</summary>
    public static readonly Caller Local = new("engineer", Role.Engineer, null, null);

    /// <summary>Whether it may act at a desk: two desks number their inputs alike, and what is one's own on the one is somebody else's on the other.</summary>
    public bool IsAt(string desk) => Role == Role.Engineer || string.Equals(Desk, desk, StringComparison.Ordinal);

    /// <summary>What this caller's confirmations are limited to; <see langword="null"/> for the engineer.</summary>
    public ConfirmerLimits? Limits => Role == Role.Engineer ? null : new(Role == Role.Room ? Inputs ?? [] : [], ConfirmerLimits.RoomRiseDb);

    /// <summary>Who asks with this request, as <see cref="AccessGuard"/> found out.</summary>
    public static Caller Of(HttpContext context) => context.Features.Get<Caller>() ?? throw new InvalidOperationException("A request came past the access guard.");
}
