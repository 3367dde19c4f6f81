using TrimAssist.Core.Gate;

namespace TrimAssist.Service.Security;

/// <summary>Who asks.</summary>
/// <param name="Name">The name for the record.</param>
/// <param name="Role">What it may do.</param>
/// <param name="Inputs">Its own inputs; <see langword="null"/> for all.</param>
/// <param name="Credential">The credential that it came with; <see langword="null"/> for whoever needs none.</param>
internal sealed record Caller(string Name, Role Role, IReadOnlyList<int>? Inputs, Guid? Credential)
{
    /// <summary>Whoever sits at the service's own machine.</summary>
    public static readonly Caller Local = new("engineer", Role.Engineer, null, null);

    /// <summary>What this caller's confirmations are limited to; <see langword="null"/> for the engineer.</summary>
    public ConfirmerLimits? Limits => Role == Role.Engineer ? null : new(Role == Role.Room ? Inputs ?? [] : [], ConfirmerLimits.RoomRiseDb);

    /// <summary>Who asks with this request, as <see cref="AccessGuard"/> found out.</summary>
    public static Caller Of(HttpContext context) => context.Features.Get<Caller>() ?? throw new InvalidOperationException("A request came past the access guard.");
}
