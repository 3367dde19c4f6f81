using System.Collections.Concurrent;
using System.Globalization;
using System.Net;
using System.Net.Sockets;

namespace TrimAssist.Acceptance.Page;

/// <summary>The cable between a browser and the service: pulled, it carries nothing and nobody is told, as on a real network.</summary>
internal sealed class NetworkCable : IAsyncDisposable
{
    private readonly TcpListener _near = new(IPAddress.Loopback, 0);
    private readonly CancellationTokenSource _gone = new();
    private readonly ConcurrentBag<Task> _ways = [];
    private readonly int _service;
    private readonly Task _accepting;
    private volatile TaskCompletionSource _plugged = Plugged();

    public NetworkCable(int service)
    {
        _service = service;
        _near.Start();
        _accepting = AcceptAsync();
    }

    /// <summary>The service, as it is reached through the cable.</summary>
    public string Url => string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{((IPEndPoint)_near.LocalEndpoint).Port}/");

    public void Pull() => _plugged = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);

    /// <summary>Plugs it in again: what was under way arrives late, as TCP sees to.</summary>
    public void Plug() => _plugged.TrySetResult();

    public async ValueTask DisposeAsync()
    {
        await _gone.CancelAsync();
        Plug();
        _near.Dispose();
        await _accepting;
        await Task.WhenAll(_ways);
        _gone.Dispose();
    }

    private static TaskCompletionSource Plugged()
    {
        var plugged = new TaskCompletionSource();
        plugged.SetResult();
        return plugged;
    }

    private async Task AcceptAsync()
    {
        try
        {
            while (true)
                _ways.Add(CarryAsync(await _near.AcceptTcpClientAsync(_gone.Token)));
        }
        catch (Exception end) when (end is OperationCanceledException or SocketException or ObjectDisposedException)
        {
            // The cable is put away.
        }
    }

    private async Task CarryAsync(TcpClient browser)
    {
        using (browser)
        using (var service = new TcpClient { NoDelay = true })
        {
            browser.NoDelay = true;
            try
            {
                await _plugged.Task.WaitAsync(_gone.Token);
                await service.ConnectAsync(IPAddress.Loopback, _service, _gone.Token);
                await Task.WhenAny(OneWayAsync(browser.GetStream(), service.GetStream()), OneWayAsync(service.GetStream(), browser.GetStream()));
            }
            catch (Exception end) when (end is OperationCanceledException or SocketException)
            {
                // Whoever is left sees the connection end.
            }
        }
    }

    private async Task OneWayAsync(NetworkStream from, NetworkStream to)
    {
        var bytes = new byte[16 * 1024];
        try
        {
            while (await from.ReadAsync(bytes, _gone.Token) is > 0 and var count)
            {
                await _plugged.Task.WaitAsync(_gone.Token);
                await to.WriteAsync(bytes.AsMemory(0, count), _gone.Token);
            }
        }
        catch (Exception end) when (end is OperationCanceledException or IOException or ObjectDisposedException)
        {
            // One end is gone.
        }
    }
}
