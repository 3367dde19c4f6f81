using System.Diagnostics;
using System.Net.Sockets;
using TrimAssist.Acceptance.Running;
using TrimAssist.TestKit.Network;
using Xunit;

namespace TrimAssist.Acceptance.Docs;

/// <summary>
/// Every command that a document offers is run as it stands there, in order, in a fresh folder. A block "sh" must succeed, "sh may-fail" may
/// answer 1, "sh serves" goes on until the page answers, "sh not-run: WHY" cannot run here; a comment "test: stop" is the reader's Ctrl+C.
/// </summary>
public sealed class DocumentCommandsTests
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(90);

    // What a command line begins with; an answer, a table or a file that is shown does not.
    private static readonly string[] Commands = ["trimassist", "dotnet", "curl", "sox", "cp", "rm", "mv", "mkdir", "install", "systemctl", "sysctl", "podman", "sudo", "apt-get", "eng/", "tests/", "python3", "sh", "bash"];

    private const string NotRun = "not-run:";

    /// <summary>The documents that offer commands: every one with such a block, found anew each time.</summary>
    public static TheoryData<string> Documents =>
        [.. AllDocuments().Where(document => Blocks(File.ReadAllText(document)).Any(block => block.Kind != "stop" && !Says(block.Kind, NotRun))).Select(document => Path.GetFileName(document)).Order(StringComparer.Ordinal)];

    [Fact]
    public void No_document_offers_a_command_that_no_test_runs_unless_it_says_why()
    {
        var plain =
            from document in AllDocuments()
            from line in PlainBlockLines(File.ReadAllText(document))
            where Commands.Any(command => Says(line, command.EndsWith('/') ? command : command + " "))
            select $"{Path.GetFileName(document)}: {line}";
        var withoutReason =
            from document in AllDocuments()
            from block in Blocks(File.ReadAllText(document))
            where Says(block.Kind, NotRun) ? block.Kind.Length < NotRun.Length + 10 : block.Kind is not ("" or "may-fail" or "serves" or "stop")
            select $"{Path.GetFileName(document)}: {block.Kind}: {block.Commands}";

        Assert.Empty(plain.Concat(withoutReason));
    }

    [Theory]
    [MemberData(nameof(Documents))]
    public async Task Every_command_of_the_document_does_what_it_says(string document)
    {
        Assert.SkipUnless(TheProgram.IsInstalled("sox") && TheProgram.IsInstalled("curl"), "The documents use sox and curl.");
        using var folder = new ReadersFolder();
        var port = FreePort.Find(ProtocolType.Tcp);
        TheProgram? serving = null;
        try
        {
            foreach (var (kind, commands) in Blocks(await File.ReadAllTextAsync(Path.Combine(folder.Repository, "docs", document))))
            {
                if (kind is "stop" or "serves" && serving is not null)
                {
                    await serving.DisposeAsync();
                    serving = null;
                }

                if (kind == "stop" || Says(kind, NotRun))
                    continue;
                var here = commands.Replace("5188", port.ToString(), StringComparison.Ordinal);
                if (kind == "serves")
                    serving = await ServeAsync(folder, here, port);
                else
                    await RunAsync(folder, here, mayFail: kind == "may-fail");
            }
        }
        finally
        {
            if (serving is not null)
                await serving.DisposeAsync();
        }
    }

    [Fact]
    public async Task The_unit_for_systemd_is_one()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux() && File.Exists("/usr/bin/systemd-analyze"), "systemd-analyze is not installed.");
        using var folder = new ReadersFolder();
        var unit = (await File.ReadAllTextAsync(Path.Combine(folder.Repository, "packaging", "trimassist.service")))
            .Replace("/opt/trimassist/trimassist", "/bin/true", StringComparison.Ordinal);
        var file = Path.Combine(folder.Path, "trimassist.service");
        await File.WriteAllTextAsync(file, unit);

        var (code, said) = await ShellAsync(folder, $"systemd-analyze verify --man=no {file}");

        Assert.True(code == 0 && !said.Contains("trimassist.service:", StringComparison.Ordinal), said);
    }

    /// <summary>Refused this one call the runtime ends with 0x8007054F before anything of ours runs.</summary>
    [Fact]
    public async Task The_unit_lets_the_runtime_ask_for_its_processors_after_refusing_the_rest()
    {
        using var folder = new ReadersFolder();
        var filters = (await File.ReadAllLinesAsync(Path.Combine(folder.Repository, "packaging", "trimassist.service")))
            .Where(line => line.StartsWith("SystemCallFilter=", StringComparison.Ordinal)).ToArray();

        Assert.Equal("SystemCallFilter=sched_setaffinity", filters[^1]);
    }

    private static async Task<TheProgram> ServeAsync(ReadersFolder folder, string commands, int port)
    {
        var lines = commands.Split('\n', StringSplitOptions.RemoveEmptyEntries);
        foreach (var line in lines[..^1])
            await RunAsync(folder, line, mayFail: false);
        // The page's own port is said only here: a reader has the usual one free.
        var started = TheProgram.Other("bash", "-c", $"cd {folder.Path} && PATH={folder.Path}/bin:$PATH exec {lines[^1]} --urls http://127.0.0.1:{port}");
        using var http = new HttpClient();
        await TheProgram.EventuallyAsync(
            async () =>
            {
                try
                {
                    return (await http.GetAsync($"http://127.0.0.1:{port}/api/health")).IsSuccessStatusCode;
                }
                catch (HttpRequestException)
                {
                    return false;
                }
            },
            Patience,
            () => $"{lines[^1]} does not serve: {string.Join('\n', started.Errors)}");
        return started;
    }

    private static async Task RunAsync(ReadersFolder folder, string commands, bool mayFail)
    {
        foreach (var command in commands.Split('\n', StringSplitOptions.RemoveEmptyEntries))
        {
            var (code, said) = await ShellAsync(folder, command);
            Assert.True(code == 0 || (mayFail && code == 1), $"{command}\nanswered {code}: {said}");
        }
    }

    private static async Task<(int Code, string Said)> ShellAsync(ReadersFolder folder, string command)
    {
        using var shell = Process.Start(new ProcessStartInfo("bash", ["-c", command])
        {
            WorkingDirectory = folder.Path,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            UseShellExecute = false,
            Environment = { ["PATH"] = $"{folder.Path}/bin:{Environment.GetEnvironmentVariable("PATH")}" },
        })!;
        var (output, errors) = (shell.StandardOutput.ReadToEndAsync(), shell.StandardError.ReadToEndAsync());
        await shell.WaitForExitAsync().WaitAsync(Patience, TimeProvider.System);
        return (shell.ExitCode, await output + await errors);
    }

    private static IEnumerable<(string Kind, string Commands)> Blocks(string text)
    {
        string? kind = null;
        List<string> commands = [];
        foreach (var line in text.Split('\n').Select(line => line.Trim()))
        {
            if (kind is null)
            {
                if (line == "<!-- test: stop -->")
                    yield return ("stop", "");
                kind = line.StartsWith("```sh", StringComparison.Ordinal) ? line[5..].Trim() : null;
            }
            else if (line == "```")
            {
                yield return (kind, string.Join('\n', commands));
                commands.Clear();
                kind = null;
            }
            else
            {
                commands.Add(line);
            }
        }
    }

    private static bool Says(string text, string beginning) => text.StartsWith(beginning, StringComparison.Ordinal);

    private static IEnumerable<string> AllDocuments() => Directory.EnumerateFiles(Path.Combine(RepositoryFolder(), "docs"), "*.md");

    // The lines of blocks that say nothing of what they hold, or that they are a shell's under another name.
    private static IEnumerable<string> PlainBlockLines(string text)
    {
        var kind = "";
        var inside = false;
        foreach (var line in text.Split('\n').Select(line => line.Trim()))
        {
            if (Says(line, "```"))
                (inside, kind) = (!inside, line[3..]);
            else if (inside && kind is ("" or "text" or "console" or "bash" or "shell"))
                yield return line.TrimStart('$', ' ');
        }
    }

    private static string RepositoryFolder()
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "TrimAssist.sln")))
            folder = Path.GetDirectoryName(folder) ?? throw new DirectoryNotFoundException("The tests run inside the repository.");
        return folder;
    }

    // A folder as the reader has it: the program on the path, the shipped profiles, profiles called desk.toml and my-desk.toml.
    private sealed class ReadersFolder : IDisposable
    {
        public ReadersFolder()
        {
            Repository = RepositoryFolder();
            var bin = Directory.CreateDirectory(System.IO.Path.Combine(Path, "bin")).FullName;
            var program = System.IO.Path.Combine(bin, "trimassist");
            File.WriteAllText(program, $"#!/bin/sh\nexec dotnet {System.IO.Path.Combine(AppContext.BaseDirectory, "trimassist.dll")} \"$@\"\n");
            if (!OperatingSystem.IsWindows())
                File.SetUnixFileMode(program, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
            Directory.CreateDirectory(System.IO.Path.Combine(Path, "config"));
            var profile = System.IO.Path.Combine(Repository, "config", "demo-desk.toml");
            File.Copy(profile, System.IO.Path.Combine(Path, "config", "demo-desk.toml"));
            File.Copy(profile, System.IO.Path.Combine(Path, "desk.toml"));
            File.Copy(profile, System.IO.Path.Combine(Path, "my-desk.toml"));
        }

        public string Path { get; } = Directory.CreateTempSubdirectory("trimassist-docs-").FullName;

        public string Repository { get; }

        public void Dispose() => Directory.Delete(Path, recursive: true);
    }
}
