using TrimAssist.Core.Checks;
using TrimAssist.Service.Security;

namespace TrimAssist.Service.Contract;

/// <summary>Which inputs to check (absent: all), and what to aim for (absent: each input's headroom).</summary>
public sealed record CheckRequest(IReadOnlyList<int>? Inputs, CheckAim? Aim = null);

/// <summary>Show watch on or off.</summary>
public sealed record WatchRequest(bool? On);

/// <summary>
/// A confirmation: the digest of what was shown, the dangers named back, and (where the confirmer says) how old its picture was by its
/// own clock, and the stamp that the service gave that picture. Where both are said the older counts.
/// </summary>
public sealed record ConfirmRequest(string? Digest, IReadOnlyList<string>? Acknowledge, double? PictureAgeMs = null, long? Picture = null);

/// <summary>Why the stage asks for a safe patch.</summary>
public sealed record PatchRequest(string? Reason);

/// <summary>A pairing code to be opened. <c>desk</c> says where the inputs are; where there are several desks a stage or a room needs it.</summary>
public sealed record PairingRequest(Role? Role, IReadOnlyList<int>? Inputs, string? Name, string? Desk = null);

/// <summary>A pairing code as somebody typed it.</summary>
public sealed record PairRequest(string? Code);

/// <summary>For how long to put an alarm aside.</summary>
public sealed record ShelveRequest(double? Minutes);
