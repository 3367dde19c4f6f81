using System.Net.Sockets;
using TrimAssist.Desk.Link.Transport;
using TrimAssist.Desk.Network;
using TrimAssist.Desk.Profiles;

namespace TrimAssist.Service.Doctor;

/// <summary>Whether each desk's meters could arrive: its name, the port to listen on, the system's room for waiting datagrams.</summary>
internal sealed class DeskPortCheckup : ICheckup
{
    /// <summary>Two seconds of 64 single messages at 50 frames a second, at the 832 bytes that Linux charges for a small one, rounded up.</summary>
    internal const int RoomNeeded = 4 * 1024 * 1024;

    /// <inheritdoc/>
    public Task<IReadOnlyList<Diagnosis>> LookAsync(Premises premises, CancellationToken cancellationToken) => Task.FromResult<IReadOnlyList<Diagnosis>>(
        [.. premises.Desks.Where(desk => desk.Connection.Transport == DeskTransportKind.Udp).SelectMany(Look)]);

    private static IEnumerable<Diagnosis> Look(DeskProfile desk)
    {
        var subject = $"{desk.Id}: port";
        var port = desk.Connection.Listen?.Port ?? 0;
        Diagnosis? wrong = null;
        var room = 0;
        try
        {
            using var socket = new UdpDeskSocket(desk.Connection);
            room = socket.ReceiveBuffer ?? 0;
        }
        catch (DeskConnectException failed)
        {
            var inUse = failed.InnerException is SocketException { SocketErrorCode: SocketError.AddressAlreadyInUse };
            wrong = new(subject, Verdict.Wrong, failed.Message, inUse ? PagePortCheckup.WhoListens("-lunp", port) : $"ping -c 3 {desk.Connection.Desk!.Host}");
        }

        if (wrong is not null)
            return [wrong];
        var free = new Diagnosis(subject, Verdict.Good, port == 0 ? "Any free UDP port will do." : $"UDP port {port} is free.");
        return [free, Room($"{desk.Id}: buffer", room)];
    }

    internal static Diagnosis Room(string subject, int granted) => granted >= RoomNeeded
        ? new(subject, Verdict.Good, $"The system holds {granted / 1024} KiB of waiting datagrams: a busy second loses nothing.")
        : new(
            subject, Verdict.Warning,
            $"The system holds {granted / 1024} KiB of waiting datagrams only: with many inputs, frames are lost whenever the machine is busy for a moment.",
            OperatingSystem.IsLinux() ? $"sudo sysctl -w net.core.rmem_max={RoomNeeded}" : null);
}
