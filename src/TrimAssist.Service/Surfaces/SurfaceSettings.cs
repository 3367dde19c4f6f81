using System.Net;
using TrimAssist.Service.Failures;
using TrimAssist.Service.Security;

namespace TrimAssist.Service.Surfaces;

/// <summary>A control surface as it stands in the settings file.</summary>
internal sealed record SurfaceSettings(
    string? Name, string? Desk, string? Role, IReadOnlyList<int>? Inputs, int? Slots, SurfaceSettings.OscInFile? Osc, MidiSurfaceSettings? Midi)
{
    private const int LongestName = 40;
    private const int OscSlots = 4;

    /// <summary>Checks it, and fills in what was left out.</summary>
    /// <exception cref="UsageException">Something is missing or cannot be used.</exception>
    public SurfaceOptions Checked()
    {
        if (Name is not { Length: > 0 and <= LongestName } name || name.Any(char.IsControl))
            throw new UsageException($"surfaces: each has a \"name\" of 1 to {LongestName} characters.");
        if (Desk is not { Length: > 0 } desk)
            throw new UsageException($"surface {name}: \"desk\" names the desk by its id.");
        if (Slots is < 1 or > SurfaceOptions.MostSlots)
            throw new UsageException($"surface {name}: \"slots\" is 1 to {SurfaceOptions.MostSlots}.");
        if (Inputs?.Any(input => input < 1) is true)
            throw new UsageException($"surface {name}: inputs are numbered from 1.");
        var role = RoleOf(name, Role);
        return (Osc, Midi) switch
        {
            ({ } osc, null) => new(name, desk, Slots ?? OscSlots, role, Inputs, osc.Checked(name)),
            (null, { } midi) when Slots is null => new(name, desk, midi.Confirm?.Count ?? 0, role, Inputs, midi.Checked(name)),
            (null, not null) => throw new UsageException($"surface {name}: a MIDI surface has as many slots as keys to \"confirm\"; \"slots\" does not stand here."),
            _ => throw new UsageException($"surface {name}: either \"osc\" or \"midi\" says where it is."),
        };
    }

    /// <summary>Reads an address and a port.</summary>
    /// <exception cref="UsageException">It is none.</exception>
    internal static IPEndPoint PlaceOf(string name, string key, string? text) => IPEndPoint.TryParse(text ?? "", out var place) && place.Port > 0
        ? place
        : throw new UsageException($"surface {name}: \"{key}\" is an address and a port, as in 127.0.0.1:9100.");

    /// <summary>Reads the addresses that may press.</summary>
    /// <param name="name">The surface.</param>
    /// <param name="listed">What the file names.</param>
    /// <param name="listen">Where presses arrive; <see langword="null"/> for anywhere.</param>
    /// <param name="other">Who may where the file names nobody; <see langword="null"/> for nobody.</param>
    /// <exception cref="UsageException">One is no address, or nobody is named where others can reach the place.</exception>
    internal static IReadOnlyList<IPAddress> Accepted(string name, IReadOnlyList<string>? listed, IPEndPoint? listen, IPAddress? other)
    {
        if (listed is { Count: > 0 })
            return [.. listed.Select(one => IPAddress.TryParse(one, out var address) ? address : throw new UsageException($"surface {name}: \"{one}\" in acceptFrom is no address."))];
        if (listen is not null && !IPAddress.IsLoopback(listen.Address))
            throw new UsageException($"surface {name}: others can reach {listen}, so \"acceptFrom\" has to name who may press.");
        return [other ?? IPAddress.Loopback];
    }

    // Nobody gets the engineer's rights by leaving a word out.
    private static Role RoleOf(string name, string? role) => role switch
    {
        "engineer" => Security.Role.Engineer,
        "room" => Security.Role.Room,
        "stage" => Security.Role.Stage,
        _ => throw new UsageException($"surface {name}: \"role\" is engineer, room or stage."),
    };

    /// <summary>Where an OSC controller is.</summary>
    /// <param name="Listen">Where its presses arrive.</param>
    /// <param name="Feedback">Where it is shown its slots.</param>
    /// <param name="AcceptFrom">Who may press; the feedback's address where it is left out.</param>
    internal sealed record OscInFile(string? Listen, string? Feedback, IReadOnlyList<string>? AcceptFrom)
    {
        /// <summary>Checks it, and fills in what was left out.</summary>
        /// <exception cref="UsageException">Something is missing or cannot be used.</exception>
        public OscPlace Checked(string name)
        {
            var (listen, feedback) = (PlaceOf(name, "listen", Listen), PlaceOf(name, "feedback", Feedback));
            return new(listen, feedback, Accepted(name, AcceptFrom, listen, feedback.Address));
        }
    }
}
