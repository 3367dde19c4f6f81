using System.Net;
using System.Net.Sockets;
using System.Text.Json.Nodes;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using TrimAssist.Core.Journal;
using TrimAssist.Service.Loops;
using TrimAssist.Service.Outbound.Mqtt;
using TrimAssist.Service.Outbound.Webhook;
using TrimAssist.Service.Security;
using TrimAssist.Service.Surfaces;
using TrimAssist.TestKit.Desks;
using TrimAssist.TestKit.Network;
using Xunit;

namespace TrimAssist.Service.Tests.Safety;

/// <summary>Health is asked of nobody who may hang: it tells who does.</summary>
public sealed class HealthTests
{
    [Fact]
    public async Task A_desks_loop_that_hangs_makes_health_degraded_and_is_named_until_it_comes_round_again()
    {
        JumpingTime time = null!;
        await using var bench = await ServiceBench.StartAsync(with: options => options with { Time = time = new JumpingTime(options.Time) });
        Assert.Equal("ok", (await bench.GetAsync("health"))["status"]!.GetValue<string>());
        using var loop = await HeldLoop.HoldAsync(bench);
        time.Forward(Vitals.Patience + TimeSpan.FromSeconds(1));

        var health = await bench.GetAsync("health");

        Assert.Equal("degraded", health["status"]!.GetValue<string>());
        // A line of the journal may have been on its way to the disk when the clock jumped: that is named too.
        Assert.Contains(health["faults"]!.AsArray(), fault => fault!.GetValue<string>().StartsWith("The loop of desk desk has not come round", StringComparison.Ordinal));
        await loop.LetGoAsync();
        await ServiceBench.EventuallyAsync(async () => (await bench.GetAsync("health"))["status"]!.GetValue<string>() == "ok", "never well again");
    }

    [Fact]
    public async Task A_surfaces_loop_that_hangs_is_named_too_until_it_comes_round_again()
    {
        JumpingTime time = null!;
        using var controller = new ForeignDesk();
        var place = new OscPlace(new IPEndPoint(IPAddress.Loopback, FreePort.Find(ProtocolType.Udp)), controller.EndPoint, [IPAddress.Loopback]);
        var pedals = new SurfaceOptions("pedals", "desk", 4, Role.Engineer, null, place);
        await using var bench = await ServiceBench.StartAsync(with: options => options with { Time = time = new JumpingTime(options.Time), Surfaces = [pedals] });
        await ServiceBench.EventuallyAsync(async () => await FaultsAsync() is [], "never well");
        // The surface asks the desk what is open at every turn: while the desk's loop does not answer, it waits.
        using var loop = await HeldLoop.HoldAsync(bench);

        // Forward again until it is heard: its last turn may still have been coming round.
        await ServiceBench.EventuallyAsync(
            async () =>
            {
                time.Forward(Vitals.Patience + TimeSpan.FromSeconds(1));
                return (await FaultsAsync()).Any(fault => fault.StartsWith("The loop of surface pedals has not come round", StringComparison.Ordinal));
            },
            "it is never named");

        await loop.LetGoAsync();
        await ServiceBench.EventuallyAsync(async () => await FaultsAsync() is [], "never well again");

        async Task<IReadOnlyList<string>> FaultsAsync() => [.. (await bench.GetAsync("health"))["faults"]!.AsArray().Select(fault => fault!.GetValue<string>())];
    }

    [Fact]
    public async Task A_silent_desk_is_not_a_hanging_loop()
    {
        await using var bench = await ServiceBench.StartAsync();
        bench.Desk.SendsMeters = false;
        JsonNode? health = null;
        await ServiceBench.EventuallyAsync(
            async () => (health = await bench.GetAsync("health"))["desks"]![0]!["state"]!.GetValue<string>() != "live", "never stale");

        Assert.Equal("ok", health!["status"]!.GetValue<string>());
        Assert.Empty(health["faults"]!.AsArray());
    }

    [Fact]
    public async Task A_disk_that_never_answers_is_named_as_long_as_somebody_waits_for_it()
    {
        var time = new FakeTimeProvider();
        var vitals = new Vitals(time);
        var disk = new HangingJournal();
        var journal = new GateJournal(disk, time, vitals, NullLogger<GateJournal>.Instance);
        time.Advance(TimeSpan.FromHours(1));
        Assert.Empty(vitals.Faults);

        journal.Note("desk", "alarm", "{}");
        time.Advance(Vitals.Patience);
        Assert.Contains("The journal's disk", Assert.Single(vitals.Faults), StringComparison.Ordinal);

        disk.Answer();
        await ServiceBench.EventuallyAsync(() => Task.FromResult(vitals.Faults.Count == 0), "never well again");
        time.Advance(TimeSpan.FromHours(1));
        Assert.Empty(vitals.Faults);
    }

    [Fact]
    public void Work_that_goes_on_is_a_sign_of_life_and_work_that_does_not_is_none()
    {
        var time = new FakeTimeProvider();
        var vitals = new Vitals(time);
        var pulse = vitals.Follow("Something");
        pulse.Begin();
        pulse.Begin();
        time.Advance(Vitals.Patience - TimeSpan.FromSeconds(1));
        pulse.Done();
        time.Advance(Vitals.Patience - TimeSpan.FromSeconds(1));
        Assert.Empty(vitals.Faults);

        time.Advance(TimeSpan.FromSeconds(1));
        Assert.Equal("Something has not come round for 3 s.", Assert.Single(vitals.Faults));

        pulse.Done();
        time.Advance(TimeSpan.FromHours(1));
        Assert.Empty(vitals.Faults);
    }

    [Theory]
    [InlineData("http://hooks.example/", "mqtts://broker.example", "plain-webhook")]
    [InlineData("https://hooks.example/", "mqtt://broker.example", "plain-mqtt")]
    [InlineData("http://192.0.2.7:8080/", "mqtt://192.0.2.7", "plain-webhook plain-mqtt")]
    [InlineData("http://127.0.0.1:8080/", "mqtt://localhost", "")]
    [InlineData("http://[::1]/", "mqtt://[::1]", "")]
    [InlineData("https://hooks.example/", "mqtts://broker.example", "")]
    public void Events_that_leave_in_plain_words_for_another_machine_are_warned_of(string hook, string broker, string expected)
    {
        var webhook = WebhookOptions.Read(hook, "sixteen bytes or more", out _)!;
        var mqtt = MqttOptions.Read(broker, "user", "password", null, null, out _)!;

        var warnings = new Exposure([new("http://127.0.0.1:5188")], [webhook.Url, new(mqtt.ToString())]).Warnings;

        Assert.Equal(expected, string.Join(' ', warnings.Select(warning => warning.Name)));
        Assert.All(warnings, warning => Assert.DoesNotContain("sixteen", warning.Text, StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_running_service_tells_in_its_health_what_leaves_in_plain_words()
    {
        await using var bench = await ServiceBench.StartAsync(with: options => options with
        {
            Webhook = WebhookOptions.Read("http://192.0.2.7:9/", "sixteen bytes or more", out _),
        });

        Assert.Equal("plain-webhook", (await bench.GetAsync("health"))["warnings"]!.AsArray().Single()!.GetValue<string>());
    }

    /// <summary>The desk's loop, held in a turn until it is let go; however a test ends, it ends.</summary>
    private sealed class HeldLoop : IDisposable
    {
        private readonly TaskCompletionSource _held = new(TaskCreationOptions.RunContinuationsAsynchronously);
        private readonly TaskCompletionSource _letGo = new();
        private readonly Task _turn;

        private HeldLoop(ServiceBench bench) => _turn = bench.Host.AskAsync(_ =>
        {
            _held.SetResult();
            _letGo.Task.Wait();
            return true;
        });

        public static async Task<HeldLoop> HoldAsync(ServiceBench bench)
        {
            var loop = new HeldLoop(bench);
            await loop._held.Task;
            return loop;
        }

        public Task LetGoAsync()
        {
            Dispose();
            return _turn;
        }

        public void Dispose() => _letGo.TrySetResult();
    }

    private sealed class HangingJournal : IJournal
    {
        private readonly TaskCompletionSource<AppendResult> _answer = new();

        public string? Trouble => null;

        public Task<AppendResult> AppendAsync(NewEntry entry, CancellationToken cancellationToken) => _answer.Task;

        public void Answer() => _answer.SetResult(new(AppendOutcome.Appended, 1, null));
    }
}
