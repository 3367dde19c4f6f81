using System.Globalization;
using System.Text.Json.Nodes;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using TrimAssist.Service.Events;
using TrimAssist.Service.Outbound;
using TrimAssist.Service.Outbound.Webhook;
using TrimAssist.Service.Tests.Safety;
using Xunit;

namespace TrimAssist.Service.Tests.Outbound;

/// <summary>Events posted to somebody's server over a real socket; the clock is the test's.</summary>
public sealed class WebhookTests : IAsyncLifetime
{
    private const string Secret = "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLKSw";

    private readonly FakeTimeProvider _time = new(new DateTimeOffset(2026, 7, 25, 18, 0, 0, TimeSpan.Zero));
    private readonly CancellationTokenSource _stopping = new();
    private Receiver _receiver = null!;
    private WebhookOutlet _outlet = null!;
    private Task _running = Task.CompletedTask;

    public async ValueTask InitializeAsync()
    {
        _receiver = await Receiver.StartAsync();
        _outlet = new WebhookOutlet(WebhookOptions.Read(_receiver.Url.ToString(), Secret, out _)!, _time, NullLogger<WebhookOutlet>.Instance);
        _running = _outlet.RunAsync(_stopping.Token);
    }

    public async ValueTask DisposeAsync()
    {
        await _stopping.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => _running);
        _outlet.Dispose();
        await _receiver.DisposeAsync();
        _stopping.Dispose();
    }

    // Worked out with Python: base64(hmac(base64 key, "msg_1.1614265330.{...}", sha256)).
    [Fact]
    public void The_signature_is_what_another_program_makes_of_the_same_message()
    {
        var key = WebhookOptions.Read("http://127.0.0.1/", Secret, out _)!.Key;
        var signature = WebhookSignature.Of(key, "msg_p5jXN8AQM9LWM0D4loKWxJek", DateTimeOffset.FromUnixTimeSeconds(1614265330), """{"test": 2432232314}""");

        Assert.Equal("v1,SyXkWn/MGzl/k4oUkCS3sNkRlk24+z202qhCGFIwvLA=", signature);
    }

    [Fact]
    public async Task An_event_is_posted_once_with_its_id_its_time_and_a_signature_over_both()
    {
        _outlet.Offer(new ServerEvent("alarm", "a-1", """{"kind":"pop"}"""));
        await UntilAsync(() => _outlet.Delivered == 1, advance: false);

        var (id, timestamp, signature, body) = Assert.Single(_receiver.Got);
        Assert.Equal(("a-1", "1785002400"), (id, timestamp));
        Assert.Equal(WebhookSignature.Of(WebhookOptions.Read("http://x/", Secret, out _)!.Key, id, DateTimeOffset.FromUnixTimeSeconds(long.Parse(timestamp, CultureInfo.InvariantCulture)), body), signature);
        var json = JsonNode.Parse(body)!;
        Assert.Equal(("alarm", "pop", "2026-07-25T18:00:00.000Z"), (json["type"]!.GetValue<string>(), json["data"]!["kind"]!.GetValue<string>(), json["timestamp"]!.GetValue<string>()));
    }

    [Fact]
    public async Task A_receiver_in_trouble_is_tried_again_under_the_same_id_and_nothing_is_lost_or_overtaken()
    {
        _receiver.Answers = count => count switch { 1 => 503, 2 => 429, 3 => 500, _ => 200 };
        _outlet.Offer(new ServerEvent("alarm", "a-1", "{}"));
        _outlet.Offer(new ServerEvent("alarm", "a-2", "{}"));
        await UntilAsync(() => _outlet.Delivered == 2);

        Assert.Equal(["a-1", "a-1", "a-1", "a-1", "a-2"], _receiver.Got.Select(one => one.Id));
        Assert.Equal(0, _outlet.Dropped);
        // Each try is signed with its own time.
        Assert.True(_receiver.Got.Select(one => one.Timestamp).Distinct().Count() > 2);
    }

    [Theory]
    [InlineData(410)]
    [InlineData(302)]
    public async Task What_is_refused_is_counted_and_not_sent_again(int status)
    {
        _receiver.Answers = count => count == 1 ? status : 200;
        _outlet.Offer(new ServerEvent("alarm", "a-1", "{}"));
        _outlet.Offer(new ServerEvent("alarm", "a-2", "{}"));
        await UntilAsync(() => _outlet.Delivered == 1);

        Assert.Equal(["a-1", "a-2"], _receiver.Got.Select(one => one.Id));
        Assert.Equal(1, _outlet.Dropped);
    }

    [Fact]
    public async Task A_receiver_that_hangs_holds_nobody_up_and_what_finds_no_room_is_counted()
    {
        _receiver.Answers = static _ => 0;
        _outlet.Offer(new ServerEvent("alarm", "first", "{}"));
        await UntilAsync(() => !_receiver.Got.IsEmpty, advance: false);
        for (var number = 0; number < OutboundQueue.Room + 50; number++)
            _outlet.Offer(new ServerEvent("alarm", $"a-{number}", "{}"));
        Assert.Equal(50, _outlet.Dropped);

        // Left after a while and tried again, until it is given up for the next one.
        await UntilAsync(() => _receiver.Got.Any(one => one.Id == "a-50"));
        Assert.Equal(1 + WebhookOutlet.Tries, _receiver.Got.Count(one => one.Id == "first"));
        Assert.Equal(51, _outlet.Dropped);
    }

    [Theory]
    [InlineData("ftp://x/", Secret)]
    [InlineData("http://user:hidden-word@x/", Secret)]
    [InlineData("http://x/", "short")]
    [InlineData("http://x/", "whsec_hidden-word-that-is-no-base64!")]
    [InlineData("http://x/", null)]
    public void An_address_or_secret_that_cannot_be_used_is_told_without_the_secret(string url, string? secret)
    {
        Assert.Null(WebhookOptions.Read(url, secret, out var problem));
        Assert.DoesNotContain("hidden-word", problem, StringComparison.Ordinal);
        Assert.NotEmpty(problem!);
    }

    [Fact]
    public async Task The_relay_hands_on_what_must_not_be_missed_and_makes_nobody_write_down_meters()
    {
        var hub = new EventHub(_time);
        var relay = new OutboundRelay(hub, [_outlet]);
        await relay.StartAsync(CancellationToken.None);
        await UntilAsync(() =>
        {
            hub.PublishPassing("meters", "{}");
            hub.Publish("alarm", "{}");
            return _outlet.Delivered > 0;
        });

        Assert.False(hub.HasClients);
        Assert.All(_receiver.Got, one => Assert.Contains("\"type\":\"alarm\"", one.Body, StringComparison.Ordinal));
        await relay.StopAsync(CancellationToken.None);
    }

    private Task UntilAsync(Func<bool> holds, bool advance = true) => ServiceBench.EventuallyAsync(
        () =>
        {
            if (advance)
                _time.Advance(TimeSpan.FromMilliseconds(500));
            return Task.FromResult(holds());
        },
        "it never came");
}
