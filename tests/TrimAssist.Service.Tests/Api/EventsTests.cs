using System.Net.ServerSentEvents;
using System.Text.Json.Nodes;
using Xunit;

namespace TrimAssist.Service.Tests.Api;

/// <summary>The event stream: what it carries, and that nobody who comes back has missed anything.</summary>
public sealed class EventsTests : IAsyncLifetime
{
    private readonly ApiStage _stage = new();

    public ValueTask InitializeAsync() => _stage.InitializeAsync();

    public ValueTask DisposeAsync() => _stage.DisposeAsync();

    [Fact]
    public async Task It_carries_checks_proposals_and_desks_with_ids_and_meters_without()
    {
        await using var listener = await Listener.OpenAsync(_stage.Http, null);
        var proposal = await _stage.ProposalAsync();
        await _stage.PostAsync("api/desks/bench/watch", """{"on":true}""");

        var seen = await listener.UntilAsync(one => one.EventType == "desk");

        Assert.Contains(seen, one => one.EventType == "meters");
        Assert.All(seen, one => Assert.Equal(one.EventType == "meters", one.EventId is null));
        Assert.Contains(seen, one => one.EventType == "check");
        var told = JsonNode.Parse(seen.Last(one => one.EventType == "proposal").Data)!;
        Assert.Equal(proposal.ToJsonString(), told.ToJsonString());
    }

    [Fact]
    public async Task A_listener_that_comes_back_gets_everything_since_its_last_id_and_nothing_twice()
    {
        string? last;
        await using (var first = await Listener.OpenAsync(_stage.Http, null))
        {
            await _stage.PostAsync("api/desks/bench/watch", """{"on":true}""");
            last = (await first.UntilAsync(one => one.EventType == "desk"))[^1].EventId;
        }

        // Away while twenty things happen.
        for (var turn = 0; turn < 20; turn++)
            await _stage.PostAsync("api/desks/bench/watch", turn % 2 == 0 ? """{"on":false}""" : """{"on":true}""");
        await using var second = await Listener.OpenAsync(_stage.Http, last);
        await _stage.StartCheckAsync(1);
        var seen = (await second.UntilAsync(one => one.EventType == "check")).Where(one => one.EventType != "meters").ToList();

        Assert.Equal(21, seen.Count);
        Assert.Equal(
            Enumerable.Range(0, 20).Select(turn => turn % 2 != 0),
            seen.Take(20).Select(one => JsonNode.Parse(one.Data)!["watching"]!.GetValue<bool>()));
        var numbers = seen.Select(one => Number(one.EventId!)).ToList();
        Assert.Equal(Enumerable.Range(0, 21).Select(step => Number(last!) + 1 + step), numbers);
    }

    [Theory]
    [InlineData("never-heard-of")]
    [InlineData("0-17")]
    public async Task An_id_of_another_run_gets_everything_as_it_stands_now(string id)
    {
        var proposal = await _stage.ProposalAsync();

        await using var listener = await Listener.OpenAsync(_stage.Http, id);
        var seen = await listener.UntilAsync(one => one.EventType == "proposal");

        Assert.Equal("desk", seen[0].EventType);
        Assert.Equal(proposal.ToJsonString(), JsonNode.Parse(seen[^1].Data)!.ToJsonString());
    }

    private static long Number(string id) => long.Parse(id.AsSpan(id.LastIndexOf('-') + 1));

    private sealed class Listener(HttpResponseMessage answer, IAsyncEnumerator<SseItem<string>> items) : IAsyncDisposable
    {
        public static async Task<Listener> OpenAsync(HttpClient http, string? lastId)
        {
            using var request = new HttpRequestMessage(HttpMethod.Get, "api/events");
            if (lastId is not null)
                request.Headers.TryAddWithoutValidation("Last-Event-ID", lastId);
            var answer = await http.SendAsync(request, HttpCompletionOption.ResponseHeadersRead);
            Assert.Equal("text/event-stream", answer.Content.Headers.ContentType?.MediaType);
            return new(answer, SseParser.Create(await answer.Content.ReadAsStreamAsync()).EnumerateAsync().GetAsyncEnumerator());
        }

        /// <summary>Everything up to and with the first that is wanted.</summary>
        public async Task<List<SseItem<string>>> UntilAsync(Func<SseItem<string>, bool> wanted)
        {
            var seen = new List<SseItem<string>>();
            while (await items.MoveNextAsync().AsTask().WaitAsync(TimeSpan.FromSeconds(30), TestContext.Current.CancellationToken))
            {
                seen.Add(items.Current);
                if (wanted(items.Current))
                    return seen;
            }

            throw new InvalidOperationException("The stream ended.");
        }

        public async ValueTask DisposeAsync()
        {
            answer.Dispose();
            await Task.CompletedTask;
        }
    }
}
