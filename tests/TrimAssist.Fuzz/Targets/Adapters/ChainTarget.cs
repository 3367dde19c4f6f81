using System.Text;
using TrimAssist.Service.ChainFiles;

namespace TrimAssist.Fuzz.Targets.Adapters;

/// <summary>Any text as a signal chain.</summary>
public static class ChainTarget
{
    public static void Run(ReadOnlySpan<byte> bytes)
    {
        var file = ChainFileReader.Read(Encoding.UTF8.GetString(bytes), "fuzz.toml");
        Expect.That(file.Chain is null == file.Errors.Count > 0, "understood and refused, or neither");
    }
}
