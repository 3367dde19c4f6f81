using System.Net.Sockets;
using System.Runtime.InteropServices;
using System.Text.Json.Nodes;
using TrimAssist.Acceptance.Running;
using TrimAssist.TestKit.Network;
using Xunit;

namespace TrimAssist.Acceptance;

/// <summary>A MIDI desk made of JACK's own example programs on a server without hardware: nothing of ours on the other side of the port.</summary>
public sealed class JackMidiTests : IDisposable
{
    private const string Notes = """
        id = "jacks"
        inputs = 2
        [connection]
        transport = "midi"
        port = "jacks"
        [[subscription]]
        sysex = "F0 7D 05 10 01 F7"
        renew_s = 0.5
        [[meters]]
        note = { channel = 1, note = "{input+59}" }
        quantity = "peak"
        range_db = [-63.5, 0.0]
        frame_ms = 100
        """;

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("trimassist-jack-");
    private readonly string _server = $"ta{Guid.NewGuid():N}"[..12];

    [Fact]
    public async Task Notes_by_jack_midiseq_are_meters_and_jack_midi_dump_sees_the_subscription()
    {
        var profile = await ProfileAsync("jack_midiseq", "jack_midi_dump");
        await using var server = await ServerAsync();
        await using var desk = Desk();
        await using var ear = Ear();
        await ThereAsync(desk, ear);

        await using var doctor = Client("dotnet", Path.Combine(AppContext.BaseDirectory, "trimassist.dll"), "doctor", "--desk", profile);
        await doctor.EndAsync(TimeSpan.FromSeconds(60));
        Assert.Contains(doctor.Output, line => line.Contains("The library librtmidi is here.", StringComparison.Ordinal));
        Assert.True(doctor.Output.Any(line => line.Contains("jacks: meters", StringComparison.Ordinal) && line.Contains("Meters arrive.", StringComparison.Ordinal)), string.Join('\n', doctor.Output.Concat(doctor.Errors)));
        await TheProgram.EventuallyAsync(
            () => Task.FromResult(ear.Output.Any(line => line.Contains("f0 7d 05 10 01 f7", StringComparison.OrdinalIgnoreCase))),
            TimeSpan.FromSeconds(5),
            () => string.Join('\n', ear.Output));
    }

    [Fact]
    public async Task A_cable_pulled_and_put_back_by_jack_connect_takes_the_link_away_and_brings_it_back()
    {
        var profile = await ProfileAsync("jack_midiseq", "jack_connect", "jack_disconnect");
        await using var server = await ServerAsync();
        await using var desk = Desk();
        await using var ear = Ear();
        await ThereAsync(desk, ear);
        var url = $"http://127.0.0.1:{FreePort.Find(ProtocolType.Tcp)}";
        await using var service = Client("dotnet", Path.Combine(AppContext.BaseDirectory, "trimassist.dll"), "serve", "--desk", profile, "--data", _folder.FullName, "--urls", url);
        using var http = new HttpClient { BaseAddress = new Uri(url) };
        await BecomesAsync(http, state => state is "live", service);

        var cable = await CableAsync("jacks-desk:out");
        await PatchAsync("jack_disconnect", cable);
        await BecomesAsync(http, state => state is "stale" or "lost", service);
        await PatchAsync("jack_connect", cable);
        await BecomesAsync(http, state => state is "live", service);
    }

    public void Dispose() => _folder.Delete(recursive: true);

    private async Task<string> ProfileAsync(params string[] tools)
    {
        foreach (var needed in tools.Prepend("jackd"))
            Assert.SkipUnless(TheProgram.IsInstalled(needed), "jackd2 is not installed");
        Assert.SkipUnless(NativeLibrary.TryLoad("librtmidi.so.6", out _) || Environment.GetEnvironmentVariable("CI") is "true", "librtmidi6 is not installed");
        var profile = Path.Combine(_folder.FullName, "jacks.toml");
        await File.WriteAllTextAsync(profile, Notes);
        return profile;
    }

    private async Task<TheProgram> ServerAsync()
    {
        var server = TheProgram.Other("jackd", "-n", _server, "-r", "--no-mlock", "-d", "dummy", "-r", "48000", "-p", "128");
        await TheProgram.EventuallyAsync(() => HasPortsAsync("system"), TimeSpan.FromSeconds(20), () => string.Join('\n', server.Errors.Concat(server.Output)));
        return server;
    }

    // One note of 100 ms each, five times a second.
    private TheProgram Desk() => Client("jack_midiseq", "jacks-desk", "9600", "0", "60", "4800", "4800", "61", "4800");

    private TheProgram Ear() => Client("stdbuf", "-oL", "jack_midi_dump", "jacks-ear");

    private Task ThereAsync(TheProgram desk, TheProgram ear) => TheProgram.EventuallyAsync(
        async () => await HasPortsAsync("jacks-desk") && await HasPortsAsync("jacks-ear"), TimeSpan.FromSeconds(20), () => string.Join('\n', desk.Errors.Concat(ear.Errors)));

    private static async Task BecomesAsync(HttpClient http, Func<string, bool> holds, TheProgram service)
    {
        var said = "";
        await TheProgram.EventuallyAsync(
            async () =>
            {
                try
                {
                    said = await http.GetStringAsync("api/desks/jacks");
                }
                catch (HttpRequestException)
                {
                    // Not up yet.
                    return false;
                }

                return holds(JsonNode.Parse(said)!["state"]!.GetValue<string>());
            },
            TimeSpan.FromSeconds(60),
            () => $"never came about: {said}\n{string.Join('\n', service.Output.Concat(service.Errors))}");
    }

    /// <summary>The two ends of the one cable at a port.</summary>
    private async Task<(string From, string To)> CableAsync(string from)
    {
        await using var list = Client("jack_lsp", "-c", from);
        await list.EndAsync(TimeSpan.FromSeconds(10));
        return (from, Assert.Single(list.Output, line => line.StartsWith(' ')).Trim());
    }

    private async Task PatchAsync(string tool, (string From, string To) cable)
    {
        await using var patch = Client(tool, cable.From, cable.To);
        await patch.EndAsync(TimeSpan.FromSeconds(10));
        Assert.True(patch.ExitCode == 0, string.Join('\n', patch.Errors.Concat(patch.Output)));
    }

    private TheProgram Client(params string[] command) => TheProgram.Other("env", [$"JACK_DEFAULT_SERVER={_server}", "JACK_NO_START_SERVER=1", .. command]);

    private async Task<bool> HasPortsAsync(string client)
    {
        await using var list = Client("jack_lsp");
        await list.EndAsync(TimeSpan.FromSeconds(10));
        return list.Output.Any(line => line.StartsWith(client, StringComparison.Ordinal));
    }
}
