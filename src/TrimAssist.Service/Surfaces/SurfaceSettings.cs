using System.Net;
using TrimAssist.Service.Failures;
using TrimAssist.Service.Security;

namespace TrimAssist.Service.Surfaces;

/// <summary>A control surface as it stands in the settings file.</summary>
internal sealed record SurfaceSettings(string? Name, string? Desk, string? Role, IReadOnlyList<int>? Inputs, int? Slots, SurfaceSettings.OscPlace? Osc)
{
    private const int LongestName = 40;

    /// <summary>Checks it, and fills in what was left out.</summary>
    /// <exception cref="UsageException">Something is missing or cannot be used.</exception>
    public SurfaceOptions Checked()
    {
        if (Name is not { Length: > 0 and <= LongestName } name || name.Any(char.IsControl))
            throw new UsageException($"surfaces: each has a \"name\" of 1 to {LongestName} characters.");
        if (Desk is not { Length: > 0 } desk)
            throw new UsageException($"surface {name}: \"desk\" names the desk by its id.");
        if (Osc is not { } osc)
            throw new UsageException($"surface {name}: \"osc\" says where it is.");
        var listen = Place(name, "listen", osc.Listen);
        var feedback = Place(name, "feedback", osc.Feedback);
        var accepted = osc.AcceptFrom?.Select(one => IPAddress.TryParse(one, out var address) ? address : throw new UsageException($"surface {name}: \"{one}\" in acceptFrom is no address.")).ToArray();
        if (accepted is not { Length: > 0 } && !IPAddress.IsLoopback(listen.Address))
            throw new UsageException($"surface {name}: others can reach {listen}, so \"acceptFrom\" has to name who may press.");
        if (Slots is < 1 or > SurfaceOptions.MostSlots)
            throw new UsageException($"surface {name}: \"slots\" is 1 to {SurfaceOptions.MostSlots}.");
        if (Inputs?.Any(input => input < 1) is true)
            throw new UsageException($"surface {name}: inputs are numbered from 1.");
        return new(name, desk, Slots ?? 4, RoleOf(name, Role), Inputs, listen, feedback, accepted is { Length: > 0 } ? accepted : [feedback.Address]);
    }

    // Nobody gets the engineer's rights by leaving a word out.
    private static Role RoleOf(string name, string? role) => role switch
    {
        "engineer" => Security.Role.Engineer,
        "room" => Security.Role.Room,
        "stage" => Security.Role.Stage,
        _ => throw new UsageException($"surface {name}: \"role\" is engineer, room or stage."),
    };

    private static IPEndPoint Place(string name, string key, string? text) => IPEndPoint.TryParse(text ?? "", out var place) && place.Port > 0
        ? place
        : throw new UsageException($"surface {name}: \"{key}\" is an address and a port, as in 127.0.0.1:9100.");

    /// <summary>Where an OSC controller is.</summary>
    /// <param name="Listen">Where its presses arrive.</param>
    /// <param name="Feedback">Where it is shown its slots.</param>
    /// <param name="AcceptFrom">Who may press; the feedback's address where it is left out.</param>
    internal sealed record OscPlace(string? Listen, string? Feedback, IReadOnlyList<string>? AcceptFrom);
}
