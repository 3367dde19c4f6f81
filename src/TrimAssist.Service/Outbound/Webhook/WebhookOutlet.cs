using System.Net;
using System.Text;
using Polly;
using Polly.Timeout;
using TrimAssist.Service.Events;

namespace TrimAssist.Service.Outbound.Webhook;

/// <summary>Posts events to one receiver, in order, signed. A receiver that is away, hangs or errs is tried again with growing waits; what it refuses is not sent again.</summary>
internal sealed partial class WebhookOutlet : IEventOutlet, IDisposable
{
    /// <summary>How often an event is tried again before it is given up: some four minutes.</summary>
    public const int Tries = 8;

    private readonly WebhookOptions _options;
    private readonly TimeProvider _time;
    private readonly ILogger<WebhookOutlet> _log;
    private readonly OutboundQueue _queue = new();
    private readonly HttpClient _http = new(new SocketsHttpHandler { AllowAutoRedirect = false, ConnectTimeout = OutboundPace.OneTry, PooledConnectionLifetime = TimeSpan.FromMinutes(5), UseCookies = false })
    {
        Timeout = Timeout.InfiniteTimeSpan,
    };

    private readonly ResiliencePipeline<HttpStatusCode> _retrying;
    private long _delivered;
    private bool _failing;

    public WebhookOutlet(WebhookOptions options, TimeProvider time, ILogger<WebhookOutlet> log)
    {
        (_options, _time, _log) = (options, time, log);
        _retrying = OutboundPace.Retrying<HttpStatusCode>(time, Tries, IsWorthAnotherTry);
    }

    public string Name => "webhook";

    public long Dropped => _queue.Dropped;

    public long Delivered => Interlocked.Read(ref _delivered);

    public void Offer(ServerEvent item) => _queue.Offer(item);

    public async Task RunAsync(CancellationToken stopping)
    {
        while (true)
            await DeliverAsync(await _queue.NextAsync(stopping), stopping);
    }

    public void Dispose() => _http.Dispose();

    private async Task DeliverAsync(ServerEvent item, CancellationToken stopping)
    {
        var outcome = await _retrying.ExecuteOutcomeAsync(
            async (context, one) =>
            {
                try
                {
                    return Outcome.FromResult(await PostAsync(one, context.CancellationToken));
                }
                catch (Exception failed) when (failed is HttpRequestException or IOException or OperationCanceledException)
                {
                    return Outcome.FromException<HttpStatusCode>(failed);
                }
            },
            ResilienceContextPool.Shared.Get(stopping), item);
        stopping.ThrowIfCancellationRequested();
        if (outcome.Exception is null && (int)outcome.Result is >= 200 and < 300)
        {
            Interlocked.Increment(ref _delivered);
            if (_failing)
                LogBack(_options.Url.Host);
            _failing = false;
            return;
        }

        _queue.GiveUp();
        if (!_failing)
            LogGivenUp(_options.Url.Host, outcome.Exception?.Message ?? $"status {(int)outcome.Result}");
        _failing = true;
    }

    private async Task<HttpStatusCode> PostAsync(ServerEvent item, CancellationToken cancellationToken)
    {
        var now = _time.GetUtcNow();
        var body = $$"""{"type":"{{item.Kind}}","timestamp":"{{now:yyyy-MM-ddTHH:mm:ss.fffZ}}","data":{{item.Json}}}""";
        using var request = new HttpRequestMessage(HttpMethod.Post, _options.Url) { Content = new StringContent(body, Encoding.UTF8, "application/json") };
        request.Headers.TryAddWithoutValidation(WebhookSignature.IdHeader, item.Id);
        request.Headers.TryAddWithoutValidation(WebhookSignature.TimestampHeader, WebhookSignature.Timestamp(now));
        request.Headers.TryAddWithoutValidation(WebhookSignature.SignatureHeader, WebhookSignature.Of(_options.Key, item.Id!, now, body));
        using var answer = await _http.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, cancellationToken);
        return answer.StatusCode;
    }

    // What the receiver refuses it will refuse again; too many requests and its own troubles pass.
    private static bool IsWorthAnotherTry(Outcome<HttpStatusCode> outcome) => outcome.Exception is not null
        ? outcome.Exception is HttpRequestException or IOException or TimeoutRejectedException
        : (int)outcome.Result is 408 or 429 or >= 500;

    [LoggerMessage(EventId = 2301, Level = LogLevel.Warning, Message = "The webhook at {Host} does not take events ({Why}); they are counted and left out until it does")]
    private partial void LogGivenUp(string host, string why);

    [LoggerMessage(EventId = 2302, Level = LogLevel.Information, Message = "The webhook at {Host} takes events again")]
    private partial void LogBack(string host);
}
