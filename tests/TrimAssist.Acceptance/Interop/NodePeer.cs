using System.Diagnostics;
using TrimAssist.Acceptance.Running;
using Xunit;

namespace TrimAssist.Acceptance.Interop;

/// <summary>OSC and RTP-MIDI implementations of others, run by Node.js from <c>Interop/Peers</c>.</summary>
internal static class NodePeer
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);

    private static string Folder { get; } = Path.Combine(Root(), "tests", "TrimAssist.Acceptance", "Interop", "Peers");

    /// <summary>Skips the test where the peers are not installed; on a build server that is a failure.</summary>
    public static void Need(string library = "osc-min")
    {
        var installed = TheProgram.IsInstalled("node") && (Environment.GetEnvironmentVariable("CI") is "true" || Directory.Exists(Path.Combine(Folder, "node_modules", library)));
        Assert.SkipUnless(installed, $"Node.js or its library {library} is not installed: npm install in tests/TrimAssist.Acceptance/Interop/Peers");
    }

    /// <summary>Asks a library many things, one a line, and gives its answers.</summary>
    public static async Task<IReadOnlyList<string>> AskAsync(string library, IReadOnlyCollection<string> asked)
    {
        using var node = Process.Start(new ProcessStartInfo("node", [Path.Combine(Folder, "codec.mjs"), library])
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            UseShellExecute = false,
        })!;
        var answers = node.StandardOutput.ReadToEndAsync();
        foreach (var line in asked)
            await node.StandardInput.WriteLineAsync(line);
        node.StandardInput.Close();
        var lines = (await answers.WaitAsync(Patience, TimeProvider.System)).Split('\n')[..^1];
        Assert.Equal(asked.Count, lines.Length);
        return lines;
    }

    /// <summary>Pads with lamps on network MIDI, at this port and the one above it.</summary>
    public static TheProgram Pads(int port) => TheProgram.Other("node", Path.Combine(Folder, "pads.mjs"), port.ToString(System.Globalization.CultureInfo.InvariantCulture));

    /// <summary>A desk made of these libraries.</summary>
    public static TheProgram Desk(params string[] arguments) => TheProgram.Other("node", [Path.Combine(Folder, "desk.mjs"), .. arguments]);

    private static string Root()
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "TrimAssist.sln")))
            folder = Path.GetDirectoryName(folder) ?? throw new InvalidOperationException("The tests do not run inside the source tree.");
        return folder;
    }
}
