using TrimAssist.Desk.Midi;
using TrimAssist.Desk.Profiles;

namespace TrimAssist.Service.Doctor;

/// <summary>Whether this machine has the library that its own MIDI ports need, where a desk is reached through one.</summary>
internal sealed class MidiCheckup : ICheckup
{
    /// <summary>What is said where it is missing.</summary>
    internal const string Missing = "The library librtmidi is missing: no MIDI port of this machine can be opened.";

    /// <summary>What mends that.</summary>
    internal const string Install = "sudo apt install librtmidi6";

    /// <inheritdoc/>
    public Task<IReadOnlyList<Diagnosis>> LookAsync(Premises premises, CancellationToken cancellationToken) => Task.FromResult<IReadOnlyList<Diagnosis>>(
        [.. premises.Desks.Where(UsesSystemPort).Select(desk => LacksLibrary(desk)
            ? new Diagnosis($"{desk.Id}: MIDI", Verdict.Wrong, Missing, Install)
            : new Diagnosis($"{desk.Id}: MIDI", Verdict.Good, "The library librtmidi is here."))]);

    /// <summary>Whether a desk's port cannot be opened for want of the library.</summary>
    internal static bool LacksLibrary(DeskProfile desk) => UsesSystemPort(desk) && !MidiPorts.HasSystemPorts;

    private static bool UsesSystemPort(DeskProfile desk) => desk.Connection is { Transport: DeskTransportKind.Midi, Desk: null };
}
