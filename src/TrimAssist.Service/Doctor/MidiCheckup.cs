using System.Runtime.InteropServices;

namespace TrimAssist.Service.Doctor;

/// <summary>Whether the system's MIDI library is there. Only desks on a system MIDI port need it; RTP-MIDI does not.</summary>
/// <param name="isThere">Whether a library can be loaded.</param>
internal sealed class MidiCheckup(Func<string, bool> isThere) : ICheckup
{
    /// <summary>The names under which the library is installed.</summary>
    private static readonly string[] Names = ["librtmidi.so.6", "librtmidi.6.dylib", "rtmidi"];

    /// <summary>Looks at the real system.</summary>
    public MidiCheckup()
        : this(CanLoad)
    {
    }

    /// <inheritdoc/>
    public Task<IReadOnlyList<Diagnosis>> LookAsync(Premises premises, CancellationToken cancellationToken) => Task.FromResult<IReadOnlyList<Diagnosis>>([Look(premises)]);

    private Diagnosis Look(Premises premises)
    {
        if (Names.Any(isThere))
            return new("MIDI", Verdict.Good, "The MIDI library is installed.");
        var needed = premises.Desks.FirstOrDefault(desk => desk.Connection.MidiPort is { } port && !port.StartsWith("rtp:", StringComparison.Ordinal));
        return needed is null
            ? new("MIDI", Verdict.Good, "The MIDI library is not installed; no desk here needs it.")
            : new("MIDI", Verdict.Wrong, $"Desk \"{needed.Id}\" is on a MIDI port, and the MIDI library is not installed.", OperatingSystem.IsLinux() ? "sudo apt install librtmidi6" : null);
    }

    private static bool CanLoad(string name)
    {
        if (!NativeLibrary.TryLoad(name, out var library))
            return false;
        NativeLibrary.Free(library);
        return true;
    }
}
