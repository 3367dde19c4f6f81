using System.Net;
using System.Net.Sockets;
using TrimAssist.Desk.Profiles.Reading;
using TrimAssist.Protocols.Osc;
using TrimAssist.Service.Cli;
using TrimAssist.Service.Clocks;
using TrimAssist.Service.Failures;
using TrimAssist.TestKit.Desks;
using TrimAssist.TestKit.Network;
using Xunit;

namespace TrimAssist.Service.Tests.Listen;

/// <summary><c>trimassist listen</c> on a real port.</summary>
public sealed class ListenCommandTests : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("trimassist-listen-");
    private readonly SteppedTime _time = new(DateTimeOffset.UnixEpoch);

    [Fact]
    public async Task What_a_desk_sends_is_shown_and_drafted_while_it_is_heard()
    {
        var port = FreePort.Find(ProtocolType.Udp);
        var draft = Path.Combine(_folder.FullName, "draft.toml");
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        var (output, progress) = (new StringWriter(), new StringWriter());
        var listening = Task.Run(() => ListenCommand.RunAsync(port, draft, null, _time, output, progress, stop.Token));
        using var desk = new ForeignDesk { Service = new IPEndPoint(IPAddress.Loopback, port).Serialize() };
        for (var frame = 0; !File.Exists(draft) || !(await File.ReadAllTextAsync(draft, stop.Token)).Contains("/t/{input}/top", StringComparison.Ordinal); frame++)
        {
            Assert.False(listening.IsCompleted, progress.ToString());
            for (var input = 1; input <= 4; input++)
                desk.Say(new OscMessage($"/t/{input}/top", OscArgument.Of(-20f - (frame % 9))));
            _time.Advance(TimeSpan.FromMilliseconds(50));
            await Task.Yield();
        }

        await stop.CancelAsync();
        Assert.Equal(0, await listening);
        Assert.Contains("/t/{input}/top", output.ToString(), StringComparison.Ordinal);
        var reading = ProfileReader.ReadFile(draft);
        Assert.Empty(reading.Errors);
        Assert.Equal(desk.EndPoint.Port, reading.Profile!.Connection.Desk!.Port);
        desk.Attend();
        Assert.Empty(desk.Heard);
    }

    [Fact]
    public async Task Silence_is_a_reason_and_no_draft()
    {
        var draft = Path.Combine(_folder.FullName, "none.toml");
        var listening = Task.Run(() => ListenCommand.RunAsync(FreePort.Find(ProtocolType.Udp), draft, 1, _time, TextWriter.Null, TextWriter.Null, CancellationToken.None));
        while (!listening.IsCompleted)
        {
            _time.Advance(TimeSpan.FromSeconds(1));
            await Task.Yield();
        }

        await Assert.ThrowsAsync<WorkFailedException>(() => listening);
        Assert.False(File.Exists(draft));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(70000)]
    public async Task A_port_that_cannot_be_is_bad_usage(int port) =>
        await Assert.ThrowsAsync<UsageException>(() => ListenCommand.RunAsync(port, null, 1, _time, TextWriter.Null, TextWriter.Null, CancellationToken.None));

    [Fact]
    public async Task A_port_in_use_is_one_sentence()
    {
        using var other = new Socket(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp);
        other.Bind(new IPEndPoint(IPAddress.Any, 0));
        var failed = await Assert.ThrowsAsync<IOException>(
            () => ListenCommand.RunAsync(((IPEndPoint)other.LocalEndPoint!).Port, null, 1, _time, TextWriter.Null, TextWriter.Null, CancellationToken.None));
        Assert.Contains("in use", failed.Message, StringComparison.Ordinal);
    }

    public void Dispose() => _folder.Delete(recursive: true);
}
