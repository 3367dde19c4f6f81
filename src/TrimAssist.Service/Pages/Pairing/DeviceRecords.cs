using TrimAssist.Service.Security;

namespace TrimAssist.Service.Pages.Pairing;

/// <summary>A device that has a credential.</summary>
/// <param name="Id">The credential's id.</param>
/// <param name="Name">Whose it is.</param>
/// <param name="Role">What it allows.</param>
/// <param name="Inputs">Its own inputs; <see langword="null"/> for all.</param>
/// <param name="MadeAt">When it was paired.</param>
public sealed record PairedDevice(Guid Id, string Name, Role Role, IReadOnlyList<int>? Inputs, DateTimeOffset MadeAt);

/// <summary>A pairing code while it is shown.</summary>
/// <param name="Code">What to type.</param>
/// <param name="Name">Whose device it is for.</param>
/// <param name="Left">How long it is still good.</param>
public sealed record ShownCode(string Code, string Name, TimeSpan Left);
