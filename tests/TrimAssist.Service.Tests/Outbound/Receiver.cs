using System.Collections.Concurrent;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;

namespace TrimAssist.Service.Tests.Outbound;

/// <summary>Somebody's web server that takes webhooks, or does not.</summary>
internal sealed class Receiver : IAsyncDisposable
{
    private readonly WebApplication _app;
    private readonly CancellationTokenSource _off = new();

    private Receiver(WebApplication app) => _app = app;

    public ConcurrentQueue<(string Id, string Timestamp, string Signature, string Body)> Got { get; } = new();

    /// <summary>The status of the n-th answer, counted from 1; 0 for none at all, ever.</summary>
    public Func<int, int> Answers { get; set; } = static _ => 204;

    public Uri Url => new(_app.Urls.First() + "/hook");

    public static async Task<Receiver> StartAsync()
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        var receiver = new Receiver(builder.Build());
        receiver._app.Run(receiver.TakeAsync);
        await receiver._app.StartAsync();
        return receiver;
    }

    public async ValueTask DisposeAsync()
    {
        await _off.CancelAsync();
        await _app.DisposeAsync();
        _off.Dispose();
    }

    private async Task TakeAsync(HttpContext context)
    {
        using var body = new StreamReader(context.Request.Body);
        var headers = context.Request.Headers;
        var text = await body.ReadToEndAsync(context.RequestAborted);
        Got.Enqueue((headers["webhook-id"].ToString(), headers["webhook-timestamp"].ToString(), headers["webhook-signature"].ToString(), text));
        var status = Answers(Got.Count);
        if (status == 0)
            await Task.Delay(Timeout.InfiniteTimeSpan, TimeProvider.System, _off.Token).ContinueWith(static _ => { }, TaskScheduler.Default);
        context.Response.StatusCode = Math.Max(status, 200);
        if (status == 302)
            context.Response.Headers.Location = "/elsewhere";
    }
}
