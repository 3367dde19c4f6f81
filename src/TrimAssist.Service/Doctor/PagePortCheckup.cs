using System.Net;
using System.Net.Sockets;
using TrimAssist.Service.Security;

namespace TrimAssist.Service.Doctor;

/// <summary>Whether the page's addresses can be had.</summary>
internal sealed class PagePortCheckup : ICheckup
{
    private const string Subject = "page port";

    /// <inheritdoc/>
    public Task<IReadOnlyList<Diagnosis>> LookAsync(Premises premises, CancellationToken cancellationToken) =>
        Task.FromResult<IReadOnlyList<Diagnosis>>([.. premises.Urls.Select(Look)]);

    private static Diagnosis Look(Uri url)
    {
        var address = IPAddress.TryParse(url.Host.Trim('[', ']'), out var given) ? given : IPAddress.Loopback;
        try
        {
            using var socket = new Socket(address.AddressFamily, SocketType.Stream, ProtocolType.Tcp);
            socket.Bind(new IPEndPoint(address, url.Port));
        }
        catch (SocketException failed) when (failed.SocketErrorCode == SocketError.AddressAlreadyInUse)
        {
            return new(Subject, Verdict.Wrong, $"Port {url.Port} is in use by another program: perhaps the service runs already.", WhoListens("-ltnp", url.Port));
        }
        catch (SocketException failed)
        {
            return new(Subject, Verdict.Wrong, $"{url} cannot be served: {failed.Message}", "trimassist serve --urls http://127.0.0.1:5188 …");
        }

        return LocalDoor.IsLoopback(url.Host)
            ? new(Subject, Verdict.Good, $"{url} is free.")
            : new(Subject, Verdict.Warning, $"{url} is free, and can be reached from the network: mind who is on it.", "trimassist serve --urls http://127.0.0.1:5188 …");
    }

    internal static string WhoListens(string flags, int port) => OperatingSystem.IsLinux() ? $"ss {flags} 'sport = :{port}'" : $"netstat -an | grep {port}";
}
