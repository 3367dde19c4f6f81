using System.Text.Json;
using TrimAssist.Acceptance.Running;
using Xunit;

namespace TrimAssist.Acceptance.Outbound;

/// <summary>The whole program before a real broker.</summary>
public sealed class BrokerTests : IDisposable
{
    private const string Missing = "mosquitto and its clients are not installed, or not on the PATH";

    // What the broker's log says of a client whom it let in by its name and password.
    private const string Known = $"u'{Broker.User}'";

    private static readonly TimeSpan Soon = TimeSpan.FromSeconds(60);

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("trimassist-mqtt-");

    public void Dispose() => _folder.Delete(recursive: true);

    [Fact]
    public async Task What_stands_is_kept_told_anew_when_the_broker_is_back_and_the_will_speaks_for_a_service_that_fell()
    {
        Assert.SkipUnless(Broker.IsInstalled, Missing);
        await using var broker = new Broker();
        // Away at first: the service starts and serves all the same.
        await using var service = Serve(broker, Broker.Password);
        await SaysAsync(service, "The page is at");
        await SaysAsync(service, "is gone");
        await WatchAsync(service);

        await broker.StartAsync();
        await broker.LogsAsync(Known, 1);
        var heard = await broker.HearAsync("hall/#", "hall/desks/demo/state {");
        Assert.Contains("hall/status online", heard);
        using var desk = JsonDocument.Parse(heard.First(line => line.StartsWith("hall/desks/demo/state ", StringComparison.Ordinal))["hall/desks/demo/state ".Length..]);
        Assert.Equal("demo", desk.RootElement.GetProperty("id").GetString());

        // A broker that fell has forgotten what it kept.
        await broker.KillAsync();
        await broker.StartAsync();
        await broker.KeepsAsync("hall/desks/demo/state", "hall/desks/demo/state {");
        await broker.KeepsAsync("hall/status", "hall/status online");

        await service.KillAsync();
        await broker.KeepsAsync("hall/status", "hall/status offline");
        Assert.DoesNotContain(service.Errors, line => line.Contains(Broker.Password, StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_wrong_password_is_told_once_without_it_and_the_service_serves_on()
    {
        Assert.SkipUnless(Broker.IsInstalled, Missing);
        await using var broker = new Broker();
        await broker.StartAsync();
        await using var service = Serve(broker, "under the hills");
        await SaysAsync(service, "The page is at");
        await broker.LogsAsync("not authorised", 2);
        await SaysAsync(service, "NotAuthorized");

        Assert.Single(service.Errors, line => line.Contains("NotAuthorized", StringComparison.Ordinal));
        using var http = new HttpClient();
        (await http.GetAsync(new Uri($"{Page(service)}/api/health"))).EnsureSuccessStatusCode();

        Assert.DoesNotContain(service.Errors, line => line.Contains("under the hills", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_broker_that_nobody_vouches_for_is_told_neither_the_password_nor_an_event()
    {
        Assert.SkipUnless(Broker.IsInstalled, Missing);
        await using var broker = new Broker();
        await broker.StartAsync();
        await using var service = Serve(broker, Broker.Password, trusts: false);
        await SaysAsync(service, "The page is at");
        await broker.LogsAsync("OpenSSL Error", 1);
        await SaysAsync(service, "is gone");

        Assert.Equal(0, broker.Logged(Known));
    }

    // Something changes about the desk, so that it is told.
    private static async Task WatchAsync(TheProgram service)
    {
        using var http = new HttpClient();
        using var on = new StringContent("""{"on":true}""", System.Text.Encoding.UTF8, "application/json");
        (await http.PostAsync(new Uri($"{Page(service)}/api/desks/demo/watch"), on)).EnsureSuccessStatusCode();
    }

    private static string Page(TheProgram service) =>
        service.Errors.First(line => line.StartsWith("The page is at ", StringComparison.Ordinal)).Split(' ')[4];

    private TheProgram Serve(Broker broker, string password, bool trusts = true)
    {
        var config = Path.Combine(_folder.FullName, "trimassist.json");
        var profile = Path.Combine(AppContext.BaseDirectory, "config", "demo-desk.toml");
        File.WriteAllText(config, $$"""
            { "desks": [{{Quoted(profile)}}], "data": {{Quoted(Path.Combine(_folder.FullName, "data"))}}, "urls": "http://127.0.0.1:0",
              "mqtt": { "server": "{{broker.Server}}", "user": "{{Broker.User}}", "password": "{{password}}", "topic": "hall"{{(trusts ? $", \"authorities\": {Quoted(broker.Certificate)}" : "")}} } }
            """);
        return TheProgram.TrimAssist("serve", "--config", config);
    }

    private static string Quoted(string text) => $"\"{JsonEncodedText.Encode(text)}\"";

    private static Task SaysAsync(TheProgram service, string text) => TheProgram.EventuallyAsync(
        () => Task.FromResult(service.Errors.Any(line => line.Contains(text, StringComparison.Ordinal))), Soon, () => $"never said {text}, but {string.Join('\n', service.Errors)}");
}
