namespace TrimAssist.Service.Events;

/// <summary>One event as it goes to a client: already JSON, made once for all of them.</summary>
/// <param name="Kind">The event's name on the stream.</param>
/// <param name="Id">Its id; <see langword="null"/> for meters and leases, which are never resumed.</param>
/// <param name="Json">The payload.</param>
public sealed record ServerEvent(string Kind, string? Id, string Json);
