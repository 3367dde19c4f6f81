using System.Net.Http.Json;
using System.Net.Sockets;
using System.Security.Cryptography;
using System.Text.Json.Nodes;
using Microsoft.Data.Sqlite;
using TrimAssist.Acceptance.Running;
using TrimAssist.TestKit.Desks;
using TrimAssist.TestKit.Network;
using Xunit;

namespace TrimAssist.Acceptance.Upgrade;

/// <summary>Backup, restore, upgrade, and the way back, as an operator goes them by the command line.</summary>
public sealed class JournalUpgradeTests : IDisposable
{
    private const string Applied = "019a0000-0000-7000-8000-000000000001";

    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("trimassist-upgrade-");

    private string Data => Path.Combine(_folder.FullName, "data");

    private string Database => Path.Combine(Data, "journal.db");

    public void Dispose() => _folder.Delete(recursive: true);

    [Theory]
    [InlineData("journal-schema-1.sql")]
    public async Task A_journal_of_an_older_program_is_backed_up_put_back_and_served_with_everything_that_it_remembers(string older)
    {
        Make(await File.ReadAllTextAsync(Path.Combine(AppContext.BaseDirectory, "Upgrade", older), TestContext.Current.CancellationToken));
        var copy = Path.Combine(_folder.FullName, "night.db");
        Assert.Equal((0, ""), await RunAsync("journal", "backup", copy, "--data", Data));
        Directory.Delete(Data, recursive: true);
        Directory.CreateDirectory(Data);
        File.Copy(copy, Database);

        await using var desk = new UnrulyDesk();
        var url = $"http://127.0.0.1:{FreePort.Find(ProtocolType.Tcp)}";
        await using (var service = TheProgram.TrimAssist("serve", "--desk", desk.WriteProfile(_folder.FullName), "--data", Data, "--urls", url))
        {
            using var http = new HttpClient { BaseAddress = new Uri(url + "/api/") };
            var health = await AnswerAsync(http, "health", service);
            Assert.Equal((true, 0), (health["journalWritable"]!.GetValue<bool>(), health["journalLinesUnread"]!.GetValue<int>()));
            Assert.Equal(("applied", 24.5), (await http.GetFromJsonAsync<JsonNode>($"proposals/{Applied}", TestContext.Current.CancellationToken)) is { } told ? (told["state"]!.GetValue<string>(), told["to"]!.GetValue<double>()) : default);
            Assert.Equal("Zoë Ashdown", (await http.GetFromJsonAsync<JsonNode>("players", TestContext.Current.CancellationToken))![0]!["player"]!.GetValue<string>());
            Assert.Equal("preamp", (await http.GetFromJsonAsync<JsonNode>("desks/desk/inputs/1/chain", TestContext.Current.CancellationToken))!["stages"]![0]!.GetValue<string>());
        }

        Assert.Empty(desk.Writes);
        Assert.Equal(0, (await RunAsync("journal", "check", "--data", Data)).Code);
        var (code, sheet) = await RunAsync("report", "--act", "Harbour Kites", "--format", "json", "--data", Data);
        Assert.Equal(0, code);
        Assert.Equal("engineer", JsonNode.Parse(sheet)!["changes"]![0]!["by"]!.GetValue<string>());
    }

    [Fact]
    public async Task A_journal_of_a_newer_program_is_refused_by_every_command_and_left_as_it_is()
    {
        Make("CREATE TABLE entry (future TEXT); PRAGMA user_version = 99;");
        var before = SHA256.HashData(await File.ReadAllBytesAsync(Database, TestContext.Current.CancellationToken));

        foreach (var command in CommandsOnAJournal())
        {
            var (code, _, errors) = await RunWholeAsync(command);
            Assert.Equal((1, command[0]), (code, command[0]));
            Assert.Contains("was written by a newer version of this program", Assert.Single(errors), StringComparison.Ordinal);
        }

        var (doctors, said, _) = await RunWholeAsync("doctor", "--data", Data, "--urls", "http://127.0.0.1:0");
        Assert.Equal(1, doctors);
        Assert.Contains(said, line => line.Contains("was written by a newer version of this program", StringComparison.Ordinal));
        Assert.Equal(before, SHA256.HashData(await File.ReadAllBytesAsync(Database, TestContext.Current.CancellationToken)));
        Assert.False(File.Exists(Path.Combine(_folder.FullName, "copy")));
    }

    [Fact]
    public async Task A_journal_whose_pages_are_torn_is_refused_in_one_sentence_that_says_what_to_do()
    {
        Make(await File.ReadAllTextAsync(Path.Combine(AppContext.BaseDirectory, "Upgrade", "journal-schema-1.sql"), TestContext.Current.CancellationToken));
        await using (var file = new FileStream(Database, FileMode.Open))
        {
            // The first page is left: it says that this is a journal.
            file.Position = 4096;
            await file.WriteAsync(Enumerable.Repeat((byte)0xA5, (int)file.Length - 4096).ToArray(), TestContext.Current.CancellationToken);
        }

        var (code, _, errors) = await RunWholeAsync(CommandsOnAJournal()[0]);

        Assert.Equal(1, code);
        Assert.Contains("Move it and its -wal file aside, and start again from a backup or anew.", Assert.Single(errors), StringComparison.Ordinal);
    }

    private string[][] CommandsOnAJournal()
    {
        var copy = Path.Combine(_folder.FullName, "copy");
        var profile = Path.Combine(AppContext.BaseDirectory, "config", "demo-desk.toml");
        return
        [
            ["serve", "--desk", profile, "--urls", "http://127.0.0.1:0", "--data", Data],
            ["report", "--act", "Harbour Kites", "--data", Data],
            ["forget-player", "Ada", "--data", Data],
            ["journal", "check", "--data", Data],
            ["journal", "backup", copy, "--data", Data],
            ["journal", "export", copy, "--data", Data],
            ["journal", "archive", copy, "--data", Data],
        ];
    }

    private void Make(string sql)
    {
        Directory.CreateDirectory(Data);
        using var connection = new SqliteConnection($"Data Source={Database};Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }

    private static async Task<JsonNode> AnswerAsync(HttpClient http, string path, TheProgram service)
    {
        JsonNode? answer = null;
        await TheProgram.EventuallyAsync(
            async () =>
            {
                try
                {
                    return (answer = await http.GetFromJsonAsync<JsonNode>(path)) is not null;
                }
                catch (HttpRequestException)
                {
                    return false;
                }
            },
            Patience,
            () => string.Join('\n', service.Errors));
        return answer!;
    }

    private static async Task<(int Code, string Output)> RunAsync(params string[] arguments)
    {
        var (code, output, _) = await RunWholeAsync(arguments);
        return (code, string.Join('\n', output));
    }

    private static async Task<(int Code, List<string> Output, List<string> Errors)> RunWholeAsync(params string[] arguments)
    {
        await using var program = TheProgram.TrimAssist(arguments);
        await program.EndAsync(Patience);
        var errors = program.Errors.ToList();
        Assert.DoesNotContain(errors, line => line.StartsWith("   at ", StringComparison.Ordinal) || line.Contains("Unhandled exception", StringComparison.Ordinal));
        return (program.ExitCode, [.. program.Output], errors);
    }
}
