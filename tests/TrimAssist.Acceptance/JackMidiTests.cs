using System.Runtime.InteropServices;
using TrimAssist.Acceptance.Running;
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
        foreach (var needed in new[] { "jackd", "jack_midiseq", "jack_midi_dump" })
            Assert.SkipUnless(TheProgram.IsInstalled(needed), "jackd2 is not installed");
        Assert.SkipUnless(NativeLibrary.TryLoad("librtmidi.so.6", out _) || Environment.GetEnvironmentVariable("CI") is "true", "librtmidi6 is not installed");
        var profile = Path.Combine(_folder.FullName, "jacks.toml");
        await File.WriteAllTextAsync(profile, Notes);
        await using var server = TheProgram.Other("jackd", "-n", _server, "-r", "--no-mlock", "-d", "dummy", "-r", "48000", "-p", "128");
        await TheProgram.EventuallyAsync(() => HasPortsAsync("system"), TimeSpan.FromSeconds(20), () => string.Join('\n', server.Errors.Concat(server.Output)));

        // One note of 100 ms each, five times a second.
        await using var desk = Client("jack_midiseq", "jacks-desk", "9600", "0", "60", "4800", "4800", "61", "4800");
        await using var ear = Client("stdbuf", "-oL", "jack_midi_dump", "jacks-ear");
        await TheProgram.EventuallyAsync(
            async () => await HasPortsAsync("jacks-desk") && await HasPortsAsync("jacks-ear"), TimeSpan.FromSeconds(20), () => string.Join('\n', desk.Errors.Concat(ear.Errors)));

        await using var doctor = Client("dotnet", Path.Combine(AppContext.BaseDirectory, "trimassist.dll"), "doctor", "--desk", profile);
        await doctor.EndAsync(TimeSpan.FromSeconds(60));
        Assert.Contains(doctor.Output, line => line.Contains("The library librtmidi is here.", StringComparison.Ordinal));
        Assert.True(doctor.Output.Any(line => line.Contains("jacks: meters", StringComparison.Ordinal) && line.Contains("Meters arrive.", StringComparison.Ordinal)), string.Join('\n', doctor.Output.Concat(doctor.Errors)));
        await TheProgram.EventuallyAsync(
            () => Task.FromResult(ear.Output.Any(line => line.Contains("f0 7d 05 10 01 f7", StringComparison.OrdinalIgnoreCase))),
            TimeSpan.FromSeconds(5),
            () => string.Join('\n', ear.Output));
    }

    public void Dispose() => _folder.Delete(recursive: true);

    private TheProgram Client(params string[] command) => TheProgram.Other("env", [$"JACK_DEFAULT_SERVER={_server}", "JACK_NO_START_SERVER=1", .. command]);

    private async Task<bool> HasPortsAsync(string client)
    {
        await using var list = Client("jack_lsp");
        await list.EndAsync(TimeSpan.FromSeconds(10));
        return list.Output.Any(line => line.StartsWith(client, StringComparison.Ordinal));
    }
}
