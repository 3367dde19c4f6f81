using System.Net;
using CsCheck;
using TrimAssist.Desk.Profiles.Reading;
using TrimAssist.Service.Replay;
using Xunit;

namespace TrimAssist.Service.Tests.Replay;

/// <summary>The file of a recorded link: what goes in comes out, and what cannot be read is counted.</summary>
public sealed class LinkRecordingTests : IDisposable
{
    private const string Profile = """
        id = "barn"
        inputs = 4
        [connection]
        desk = "192.0.2.10:9000"
        [[meters]]
        address = "/lv/{input}"
        quantity = "peak"
        unit = "dbfs"
        frame_ms = 50
        """;

    private const string Head = "trimassist link recording 1\nbegan 2026-07-25T17:00:00Z\ndesk barn\n";

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("trimassist-record-");

    [Fact]
    public async Task What_was_recorded_is_read_again_byte_for_byte() => await Gen.Select(Gen.Byte.Array[0, 300], Gen.Double[0, 1e6]).List[1, 30].SampleAsync(async packets =>
    {
        var file = Path.Combine(_folder.FullName, Path.GetRandomFileName());
        var profile = ProfileReader.Read(Profile, "barn.toml").Profile!;
        await using (var recorder = LinkRecorder.Create(file, [profile], TimeProvider.System, static _ => { }))
        {
            var tap = recorder.TapOf("barn");
            foreach (var (bytes, time) in packets)
            {
                tap.Received(bytes, IPAddress.Parse("192.0.2.10").GetAddressBytes(), time);
                tap.Sent(bytes, time);
            }
        }

        using var recording = LinkRecording.Open(new StreamReader(file), "barn.rec", out var fault);
        Assert.Null(fault);
        Assert.Equal(profile.Name, recording!.Desks.Single().Name);
        var read = recording.Packets().ToList();
        Assert.Equal(packets.Select(one => Convert.ToHexString(one.Item1)), read.Select(one => Convert.ToHexString(one.Bytes)));
        Assert.All(packets.Zip(read), pair => Assert.Equal(pair.First.Item2, pair.Second.TimeS, 1e-6));
        Assert.Equal(0, recording.BadLines);
    }, iter: 20);

    [Fact]
    public void A_recording_is_never_written_over()
    {
        var file = Path.Combine(_folder.FullName, "there.rec");
        File.WriteAllText(file, "kept");
        Assert.Throws<IOException>(() => LinkRecorder.Create(file, [], TimeProvider.System, static _ => { }));
        Assert.Equal("kept", File.ReadAllText(file));
    }

    [Theory]
    [InlineData("0.1 barn < 192.0.2.10 2f6")]
    [InlineData("0.1 barn < 192.0.2.10 zz")]
    [InlineData("0.1 barn < somewhere 2f61")]
    [InlineData("soon barn < 192.0.2.10 2f61")]
    [InlineData("-1 barn < 192.0.2.10 2f61")]
    [InlineData("0.1 barn")]
    [InlineData("0.1 barn ? 192.0.2.10 2f61")]
    public void A_line_that_cannot_be_read_is_counted_and_the_next_is_played(string line)
    {
        using var recording = Open($"{Head}{Prefixed(Profile)}{line}\n# a remark\n\n0.2 barn > 2f61\n0.3 barn < 192.0.2.10 2f6c\n", out _)!;
        Assert.Equal(0.3, Assert.Single(recording.Packets()).TimeS);
        Assert.Equal(1, recording.BadLines);
    }

    [Fact]
    public void Another_file_is_refused_with_a_reason()
    {
        Assert.Null(Open("time_s,channel\n", out var other));
        Assert.StartsWith("barn.rec:1: is no link recording", other, StringComparison.Ordinal);
        Assert.Null(Open("trimassist link recording 1\n0.1 barn < 192.0.2.10 2f61\n", out var nobody));
        Assert.Equal("barn.rec: names no desk.", nobody);
        Assert.Null(Open($"{Head}{Prefixed(Profile.Replace("dbfs", "volts", StringComparison.Ordinal))}", out var wrong));
        Assert.Contains("unit", wrong, StringComparison.Ordinal);
        Assert.Null(Open($"{Head}{Prefixed(Profile)}desk barn\n{Prefixed(Profile)}", out var twice));
        Assert.Contains("two desks", twice, StringComparison.Ordinal);
    }

    [Fact]
    public void Any_text_is_read_without_a_fault_of_the_program() => Gen.String.Sample(text =>
    {
        using var recording = Open($"{Head}{Prefixed(Profile)}{text}", out _);
        return recording is null || recording.Packets().Count() >= 0;
    });

    public void Dispose() => _folder.Delete(recursive: true);

    private static LinkRecording? Open(string text, out string? fault) => LinkRecording.Open(new StringReader(text), "barn.rec", out fault);

    private static string Prefixed(string profile) => string.Concat(profile.Split('\n').Select(line => $"| {line}\n"));
}
