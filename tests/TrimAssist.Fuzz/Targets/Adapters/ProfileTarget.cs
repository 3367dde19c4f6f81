using System.Text;
using TrimAssist.Desk.Profiles.Reading;

namespace TrimAssist.Fuzz.Targets.Adapters;

/// <summary>Any text as a desk's profile: it is understood, or it is refused with a place; never both, never an exception.</summary>
public static class ProfileTarget
{
    public static void Run(ReadOnlySpan<byte> bytes)
    {
        var reading = ProfileReader.Read(Encoding.UTF8.GetString(bytes), "fuzz.toml");
        Expect.That(reading.Profile is null == reading.Errors.Count > 0, "understood and refused, or neither");
        foreach (var error in reading.Errors)
            Expect.That(error is { Line: >= 1, Column: >= 1, Message.Length: > 0 }, "an error without a place");
    }
}
