using System.Net;
using System.Net.Sockets;
using TrimAssist.Desk.Midi;
using TrimAssist.Desk.Network;
using TrimAssist.Service.Surfaces;

namespace TrimAssist.Service.Doctor;

/// <summary>Whether each control surface can be reached: its desk, the ports on this side, and the MIDI port that it hangs on. Sends nothing.</summary>
/// <param name="time">The clock.</param>
internal sealed class SurfaceCheckup(TimeProvider time) : ICheckup
{
    /// <inheritdoc/>
    public Task<IReadOnlyList<Diagnosis>> LookAsync(Premises premises, CancellationToken cancellationToken) => Task.FromResult<IReadOnlyList<Diagnosis>>(
        [.. premises.Surfaces.Select(surface => Look(surface, premises))]);

    private Diagnosis Look(SurfaceOptions surface, Premises premises)
    {
        var subject = $"surface {surface.Name}";
        if (!premises.Desks.Any(desk => string.Equals(desk.Id, surface.Desk, StringComparison.Ordinal)))
            return new(subject, Verdict.Wrong, $"No desk is called \"{surface.Desk}\".", "name a desk of the settings file, by the id in its profile, as the surface's \"desk\"");
        return surface.Place switch
        {
            OscPlace osc => Ports(subject, osc.Listen),
            MidiPlace { Port: { } port } => SystemPort(subject, port),
            // A session has two ports side by side.
            MidiPlace { Listen: { } lower } => Ports(subject, lower, new IPEndPoint(lower.Address, lower.Port + 1)),
            _ => new(subject, Verdict.Good, "Any free UDP ports will do."),
        };
    }

    private static Diagnosis Ports(string subject, params IReadOnlyList<IPEndPoint> ports)
    {
        foreach (var port in ports)
        {
            try
            {
                using var socket = new Socket(port.AddressFamily, SocketType.Dgram, ProtocolType.Udp);
                socket.Bind(port);
            }
            catch (SocketException taken)
            {
                return new(subject, Verdict.Wrong, $"Cannot listen on {port}: {taken.Message}", PagePortCheckup.WhoListens("-lunp", port.Port));
            }
        }

        return new(subject, Verdict.Good, $"UDP port {string.Join(" and ", ports.Select(port => port.Port))} is free.");
    }

    private Diagnosis SystemPort(string subject, string port)
    {
        if (!MidiPorts.HasSystemPorts)
            return new(subject, Verdict.Wrong, MidiCheckup.Missing, MidiCheckup.Install);
        try
        {
            using var opened = MidiPorts.OpenSystem(port, time);
            return opened.Trouble is { } trouble
                ? new(subject, Verdict.Warning, trouble, "plug it in and switch it on; it is looked for again and again")
                : new(subject, Verdict.Good, $"The MIDI port \"{port}\" is here.");
        }
        catch (DeskConnectException missing)
        {
            return new(subject, Verdict.Warning, missing.Message, "plug it in and switch it on; it is looked for again and again");
        }
    }
}
