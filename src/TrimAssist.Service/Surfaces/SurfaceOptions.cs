using TrimAssist.Service.Security;

namespace TrimAssist.Service.Surfaces;

/// <summary>One control surface, as the settings file describes it.</summary>
/// <param name="Name">Its name, for the record.</param>
/// <param name="Desk">The id of the desk whose proposals it shows.</param>
/// <param name="Slots">How many proposals it shows at once.</param>
/// <param name="Role">What it may do.</param>
/// <param name="Inputs">Its own inputs; <see langword="null"/> for all.</param>
/// <param name="Place">Where it is and what it speaks.</param>
internal sealed record SurfaceOptions(string Name, string Desk, int Slots, Role Role, IReadOnlyList<int>? Inputs, SurfacePlace Place)
{
    /// <summary>The most slots that a surface may have.</summary>
    public const int MostSlots = 16;

    /// <summary>Its rights are those of a paired device with the same role.</summary>
    public Caller Caller => new($"surface {Name}", Role, Inputs, Credential: null);
}
