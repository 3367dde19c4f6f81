using TrimAssist.Service.Outbound.Webhook;
using TrimAssist.Service.Tests.Api;
using Xunit;

namespace TrimAssist.Service.Tests.Outbound;

/// <summary>The whole service behind its web server, while the server that its events are posted to takes them and never answers.</summary>
public sealed class HungReceiverTests : IAsyncLifetime
{
    private Receiver _receiver = null!;
    private ApiStage _stage = null!;

    public async ValueTask InitializeAsync()
    {
        _receiver = await Receiver.StartAsync();
        _receiver.Answers = static _ => 0;
        _stage = new ApiStage { Webhook = WebhookOptions.Read(_receiver.Url.ToString(), "a secret of sixteen bytes or more", out _) };
        await _stage.InitializeAsync();
    }

    public async ValueTask DisposeAsync()
    {
        await _stage.DisposeAsync();
        await _receiver.DisposeAsync();
    }

    [Fact]
    public async Task A_webhook_that_never_answers_holds_up_neither_alarms_nor_confirmations()
    {
        await _stage.PostAsync("api/desks/bench/watch", """{"on":true}""");
        await ApiStage.UntilAsync(() => Task.FromResult(!_receiver.Got.IsEmpty));
        await _stage.PassAsync(100);

        for (var input = 1; input <= 3; input++)
        {
            _stage.Desk.PullPlug(input);
            await _stage.PassAsync(20);
            var alarm = (await _stage.GetAsync("api/alarms")).AsArray().Single(one => one!["kind"]!.GetValue<string>() == "pop" && one["input"]!.GetValue<int>() == input)!;
            var mute = await _stage.GetAsync($"api/proposals/{alarm["proposalId"]}");
            await _stage.ConfirmAsync(mute);
            await _stage.BecomesAsync(mute, "applied");
        }

        Assert.Equal(["/bench/1/closed 1", "/bench/2/closed 1", "/bench/3/closed 1"], _stage.Desk.Writes);
        // Every one of them still hangs or waits: none was taken.
        Assert.Single(_receiver.Got.Select(one => one.Id).Distinct());
    }
}
