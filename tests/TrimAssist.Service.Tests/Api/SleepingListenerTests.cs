using System.Globalization;
using System.Net.ServerSentEvents;
using System.Net.Sockets;
using System.Text;
using Xunit;

namespace TrimAssist.Service.Tests.Api;

/// <summary>A listener of the event stream that stopped reading, as a phone does in a pocket.</summary>
public sealed class SleepingListenerTests : IAsyncLifetime
{
    /// <summary>More than the system, the web server and the hub hold for somebody who does not read.</summary>
    private const int Events = 5_000;

    private const int Together = 500;

    private static readonly string Filling = new('x', 4096);

    private readonly ApiStage _stage = new();

    public ValueTask InitializeAsync() => _stage.InitializeAsync();

    public ValueTask DisposeAsync() => _stage.DisposeAsync();

    [Fact]
    public async Task It_holds_up_neither_who_publishes_nor_who_reads_and_is_ended_with_nothing_left_out_of_what_it_got()
    {
        using var asleep = await FollowAsync();
        using var awake = await FollowAsync();
        await ApiStage.UntilAsync(() => Task.FromResult(_stage.Hub.Clients == 2));
        await using var read = Numbers(awake).GetAsyncEnumerator();

        for (var first = 0; first < Events; first += Together)
        {
            for (var number = first; number < first + Together; number++)
                _stage.Hub.Publish("alarm", string.Create(CultureInfo.InvariantCulture, $"[{number},\"{Filling}\"]"));
            for (var number = first; number < first + Together; number++)
            {
                Assert.True(await read.MoveNextAsync());
                Assert.Equal(number, read.Current);
            }
        }

        var got = await Numbers(asleep).ToListAsync(TestContext.Current.CancellationToken);
        Assert.InRange(got.Count, 1, Events - 1);
        Assert.Equal(Enumerable.Range(0, got.Count), got);
    }

    private async Task<NetworkStream> FollowAsync()
    {
        var socket = new Socket(SocketType.Stream, ProtocolType.Tcp) { ReceiveBufferSize = 4096 };
        await socket.ConnectAsync(_stage.Url.Host, _stage.Url.Port);
        await socket.SendAsync(Encoding.ASCII.GetBytes($"GET /api/events HTTP/1.0\r\nHost: {_stage.Url.Authority}\r\n\r\n"));
        return new NetworkStream(socket, ownsSocket: true);
    }

    // An answer to HTTP/1.0 ends with its connection, so what follows the head is the stream itself.
    private static async IAsyncEnumerable<int> Numbers(Stream answer)
    {
        while (await ReadLineAsync(answer) is { Length: > 0 })
        {
        }

        await using var items = SseParser.Create(answer, static (kind, data) => kind == "alarm" ? Number(data) : -1).EnumerateAsync().GetAsyncEnumerator();
        while (await GoesOnAsync(items))
        {
            if (items.Current.Data >= 0)
                yield return items.Current.Data;
        }
    }

    // The web server cuts off whoever takes nothing for some seconds, which a slow machine may need for all this: also an end.
    private static async Task<bool> GoesOnAsync(IAsyncEnumerator<SseItem<int>> items)
    {
        try
        {
            return await items.MoveNextAsync().AsTask().WaitAsync(TimeSpan.FromMinutes(1), TestContext.Current.CancellationToken);
        }
        catch (IOException)
        {
            return false;
        }
    }

    private static int Number(ReadOnlySpan<byte> data) => int.Parse(data[1..data.IndexOf((byte)',')], NumberStyles.None, CultureInfo.InvariantCulture);

    private static async Task<string> ReadLineAsync(Stream answer)
    {
        var line = new StringBuilder();
        var one = new byte[1];
        while (await answer.ReadAsync(one) == 1 && one[0] != '\n')
            line.Append((char)one[0]);
        return line.ToString().TrimEnd('\r');
    }
}
