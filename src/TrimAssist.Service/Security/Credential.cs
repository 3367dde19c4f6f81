namespace TrimAssist.Service.Security;

/// <summary>A credential as it is kept: never the token, only its hash.</summary>
/// <param name="Id">Its id, for revoking.</param>
/// <param name="Name">Whose it is.</param>
/// <param name="Role">What it allows.</param>
/// <param name="Inputs">Its own inputs; <see langword="null"/> for all.</param>
/// <param name="TokenHash">SHA-256 of the token, in hexadecimal. The token is 256 random bits, so no slower hash is needed.</param>
/// <param name="MadeAt">When it was made.</param>
/// <param name="Desk">The desk that its inputs are on; <see langword="null"/> for the only one there is.</param>
internal sealed record Credential(Guid Id, string Name, Role Role, IReadOnlyList<int>? Inputs, string TokenHash, DateTimeOffset MadeAt, string? Desk = null);
