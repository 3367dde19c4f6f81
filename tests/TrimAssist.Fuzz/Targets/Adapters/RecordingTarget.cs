using System.Text;
using TrimAssist.Service.Replay;

namespace TrimAssist.Fuzz.Targets.Adapters;

/// <summary>Any text as a recorded link: it opens or says why not, and every packet in it is one of a finite time.</summary>
public static class RecordingTarget
{
    public static void Run(ReadOnlySpan<byte> bytes)
    {
        using var recording = LinkRecording.Open(new StringReader(Encoding.UTF8.GetString(bytes)), "fuzz", out var fault);
        Expect.That(recording is null == fault is { Length: > 0 }, "opened and refused, or neither");
        foreach (var packet in recording?.Packets() ?? [])
            Expect.That(double.IsFinite(packet.TimeS) && packet.Bytes.Length <= 65_536, "a packet that cannot be");
    }
}
