using System.Net;
using System.Net.Sockets;
using System.Text;
using System.Text.Json.Nodes;
using TrimAssist.Acceptance.Running;
using Xunit;

namespace TrimAssist.Acceptance.Cli;

/// <summary>
/// The program as it is run: exit code 0 for done, 1 where the work failed, 2 for bad usage or a bad file; results on standard
/// output, everything else on standard error, and never a stack trace.
/// </summary>
public sealed class CommandLineTests : IDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("trimassist-cli-");

    public void Dispose() => _folder.Delete(recursive: true);

    [Theory]
    [InlineData("")]
    [InlineData("sing")]
    [InlineData("measure")]
    [InlineData("serve")]
    [InlineData("measure no-such-file.wav")]
    [InlineData("measure --target loud x.wav")]
    [InlineData("measure --target 3 x.wav")]
    [InlineData("check-profile no-such-file.toml")]
    [InlineData("serve --desk no-such-file.toml")]
    [InlineData("demo --act no-such-list.csv")]
    [InlineData("report")]
    [InlineData("report --act Kites --format pdf")]
    [InlineData("forget-player")]
    [InlineData("demo --urls nonsense")]
    [InlineData("demo --urls http://0.0.0.0:0")]
    [InlineData("demo --urls http://127.0.0.1:99999")]
    [InlineData("demo --urls ftp://127.0.0.1:80")]
    [InlineData("demo --urls http://127.0.0.1:0/page")]
    public async Task Bad_usage_is_2_with_the_reason_on_standard_error_alone(string arguments)
    {
        var (code, output, errors) = await RunAsync(arguments.Split(' ', StringSplitOptions.RemoveEmptyEntries));

        Assert.Equal(2, code);
        Assert.Empty(output);
        Assert.NotEmpty(errors);
    }

    [Fact]
    public async Task A_wrong_profile_is_named_with_line_column_and_key_by_check_and_by_serve()
    {
        var file = Write("wrong.toml", "id = \"x\"\ninputs = 1\ninptus = 3\n");

        foreach (var arguments in new[] { new[] { "check-profile", file }, ["serve", "--desk", file] })
        {
            var (code, output, errors) = await RunAsync(arguments);
            Assert.Equal(2, code);
            Assert.Empty(output);
            Assert.Contains(errors, line => line.StartsWith($"{file}:3:1: inptus:", StringComparison.Ordinal));
        }
    }

    [Fact]
    public async Task A_good_profile_is_0_and_says_so_on_standard_output()
    {
        var (code, output, _) = await RunAsync("check-profile", Path.Combine(AppContext.BaseDirectory, "config", "demo-desk.toml"));

        Assert.Equal(0, code);
        Assert.Contains("good", output[0], StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_input_list_without_a_usable_row_is_2_and_names_row_and_column()
    {
        var list = Write("list.csv", "input,name,role\n99,Ghost,performer\n1,Kick,drummer\n");

        var (code, output, errors) = await RunAsync("demo", "--act", list, "--urls", "http://127.0.0.1:0");

        Assert.Equal(2, code);
        Assert.Empty(output);
        Assert.StartsWith($"{list}: row 2, column input:", errors[0], StringComparison.Ordinal);
        Assert.StartsWith($"{list}: row 3, column role:", errors[1], StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_report_without_a_journal_is_1_and_nobody_to_forget_is_0()
    {
        var (code, output, errors) = await RunAsync("report", "--data", _folder.FullName, "--act", "Kites");
        Assert.Equal(1, code);
        Assert.Empty(output);
        Assert.Contains(_folder.FullName, Assert.Single(errors), StringComparison.Ordinal);

        (code, output, _) = await RunAsync("forget-player", "Ada", "--data", _folder.FullName);
        Assert.Equal((0, "0 entries erased"), (code, Assert.Single(output)));
    }

    [Theory]
    [InlineData("demo")]
    [InlineData("serve --desk config/demo-desk.toml")]
    public async Task A_port_in_use_is_1_and_one_sentence(string arguments)
    {
        using var taken = new TcpListener(IPAddress.Loopback, 0);
        taken.Start();
        var url = $"http://{taken.LocalEndpoint}";
        var words = arguments.Replace("config/", AppContext.BaseDirectory + "config/", StringComparison.Ordinal).Split(' ');

        var (code, output, errors) = await RunAsync([.. words, "--urls", url, .. words[0] == "serve" ? ["--data", _folder.FullName] : Array.Empty<string>()]);

        Assert.Equal(1, code);
        Assert.Empty(output);
        Assert.Contains(url, Assert.Single(errors), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_desk_port_in_use_is_1_and_names_the_port()
    {
        using var taken = new UdpClient(new IPEndPoint(IPAddress.Loopback, 0));
        var profile = (await File.ReadAllTextAsync(Path.Combine(AppContext.BaseDirectory, "config", "demo-desk.toml"), TestContext.Current.CancellationToken))
            .Replace("[[subscription]]", $"listen = \"{taken.Client.LocalEndPoint}\"\n[[subscription]]", StringComparison.Ordinal);

        var (code, output, errors) = await RunAsync("serve", "--desk", Write("taken.toml", profile), "--data", _folder.FullName, "--urls", "http://127.0.0.1:0");

        Assert.Equal(1, code);
        Assert.Empty(output);
        Assert.Contains(taken.Client.LocalEndPoint!.ToString()!, Assert.Single(errors), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_doctor_is_told_the_same_as_a_service_and_changes_nothing()
    {
        using var taken = new UdpClient(new IPEndPoint(IPAddress.Loopback, 0));
        var profile = Path.Combine(AppContext.BaseDirectory, "config", "demo-desk.toml");
        var settings = Write("settings.json", $$"""
            { "desks": ["{{profile}}"], "data": "data", "log": "night.log", "urls": "http://127.0.0.1:0",
              "surfaces": [{ "name": "pads", "desk": "demo", "role": "room", "osc": { "listen": "{{taken.Client.LocalEndPoint}}", "feedback": "127.0.0.1:9100" } }] }
            """);

        var (code, output, errors) = await RunAsync("doctor", "--config", settings, "--listen-s", "0.1");

        Assert.Equal(1, code);
        Assert.Empty(errors);
        Assert.Contains(output, line => line.StartsWith("wrong ", StringComparison.Ordinal) && line.Contains("surface pads", StringComparison.Ordinal));
        Assert.Contains(output, line => line.Contains("demo: meters", StringComparison.Ordinal));
        Assert.Contains(output, line => line.Contains(Path.Combine(_folder.FullName, "data"), StringComparison.Ordinal));
        Assert.Equal([settings], Directory.EnumerateFileSystemEntries(_folder.FullName));
    }

    [Fact]
    public async Task Json_is_one_document_on_standard_output_and_nothing_else()
    {
        var (code, output, errors) = await RunAsync("measure", Wav("tone.wav", seconds: 12), "--json");

        Assert.Equal(0, code);
        Assert.Empty(errors);
        var document = JsonNode.Parse(string.Join('\n', output))!;
        Assert.Equal(1, document["channels"]![0]!["channel"]!.GetValue<int>());
        Assert.Equal(12, document["durationS"]!.GetValue<double>());
    }

    [Fact]
    public async Task A_recording_cut_short_is_measured_as_far_as_it_goes_and_warned_of()
    {
        var file = Wav("short.wav", seconds: 12);
        using (var whole = File.OpenWrite(file))
            whole.SetLength(whole.Length / 3);

        var (code, output, _) = await RunAsync("measure", file, "--json");

        Assert.Equal(0, code);
        var document = JsonNode.Parse(string.Join('\n', output))!;
        Assert.Contains("cut short", Assert.Single(document["warnings"]!.AsArray())!.GetValue<string>(), StringComparison.Ordinal);
        Assert.InRange(document["durationS"]!.GetValue<double>(), 3.9, 4.1);
    }

    [Theory]
    [InlineData("empty.wav", "")]
    [InlineData("head.wav", "RIFF\u0024\0\0\0WAVE")]
    [InlineData("text.csv", "hello\n")]
    [InlineData("nothing.csv", "time_s,channel,peak_dbfs,rms_dbfs\n")]
    [InlineData("useless.csv", "time_s,channel,peak_dbfs,rms_dbfs\nx,y,z,\n")]
    public async Task A_file_with_nothing_usable_is_2_and_says_why(string name, string content)
    {
        var (code, output, errors) = await RunAsync("measure", Write(name, content), "--json");

        Assert.Equal(2, code);
        Assert.Empty(output);
        Assert.Contains(name, Assert.Single(errors), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_bad_row_of_a_log_is_named_and_skipped()
    {
        var rows = string.Concat(Enumerable.Range(1, 300).Select(frame => $"{frame * 0.05:0.00},1,{(frame == 100 ? "loud" : "-20.0")},-30\n"));

        var (code, output, _) = await RunAsync("measure", Write("log.csv", "time_s,channel,peak_dbfs,rms_dbfs\n" + rows), "--json");

        Assert.Equal(0, code);
        Assert.StartsWith("line 101", JsonNode.Parse(string.Join('\n', output))!["warnings"]![0]!.GetValue<string>(), StringComparison.Ordinal);
    }

    private static async Task<(int Code, List<string> Output, List<string> Errors)> RunAsync(params string[] arguments)
    {
        await using var program = TheProgram.TrimAssist(arguments);
        await program.EndAsync(Patience);
        var errors = program.Errors.ToList();
        Assert.DoesNotContain(errors, line => line.StartsWith("   at ", StringComparison.Ordinal) || line.Contains("Unhandled exception", StringComparison.Ordinal));
        return (program.ExitCode, [.. program.Output], errors);
    }

    private string Write(string name, string content)
    {
        var file = Path.Combine(_folder.FullName, name);
        File.WriteAllText(file, content, Encoding.Latin1);
        return file;
    }

    /// <summary>One channel of 16 bits at 48 kHz: a swelling tone.</summary>
    private string Wav(string name, int seconds)
    {
        const int Rate = 48_000;
        var file = Path.Combine(_folder.FullName, name);
        using var writer = new BinaryWriter(File.Create(file));
        writer.Write("RIFF"u8);
        writer.Write(36 + (seconds * Rate * 2));
        writer.Write("WAVEfmt "u8);
        writer.Write(16);
        writer.Write((short)1);
        writer.Write((short)1);
        writer.Write(Rate);
        writer.Write(Rate * 2);
        writer.Write((short)2);
        writer.Write((short)16);
        writer.Write("data"u8);
        writer.Write(seconds * Rate * 2);
        for (var sample = 0; sample < seconds * Rate; sample++)
            writer.Write((short)(6000 * Math.Sin(0.05 * sample) * (1 + Math.Sin(sample / 30_000.0)) / 2));
        return file;
    }
}
