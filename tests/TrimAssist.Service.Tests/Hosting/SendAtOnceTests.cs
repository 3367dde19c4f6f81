using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using TrimAssist.Service.Hosting;
using Xunit;

namespace TrimAssist.Service.Tests.Hosting;

/// <summary>Whoever received a request answers it: what the web server calls unsafe about that must not come true.</summary>
public sealed class SendAtOnceTests
{
    [Fact]
    public async Task A_handler_that_blocks_its_thread_holds_up_no_other_connection()
    {
        var cancellationToken = TestContext.Current.CancellationToken;
        using var released = new ManualResetEventSlim();
        var blocked = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        var builder = WebApplication.CreateEmptyBuilder(new());
        builder.WebHost.UseKestrelCore().UseSockets(ServiceHost.SendAtOnce).UseUrls("http://127.0.0.1:0");
        await using var app = builder.Build();
        app.Run(context =>
        {
            if (context.Request.Path == "/blocks")
            {
                blocked.SetResult();
                released.Wait(cancellationToken);
            }

            return context.Response.WriteAsync("answered", cancellationToken);
        });
        await app.StartAsync(cancellationToken);
        // Each has a connection of its own, more than there are threads that watch sockets, and waits on it before the next request comes.
        var clients = Enumerable.Range(0, Environment.ProcessorCount + 3).Select(_ => new HttpClient { BaseAddress = new Uri(app.Urls.Single()) }).ToList();
        foreach (var client in clients)
            Assert.Equal("answered", await AskAsync(client));

        var first = clients[0].GetStringAsync("blocks", cancellationToken);
        await blocked.Task.WaitAsync(cancellationToken);
        Assert.All(await Task.WhenAll(clients.Skip(1).Select(AskAsync)), answer => Assert.Equal("answered", answer));
        Assert.False(first.IsCompleted);

        released.Set();
        Assert.Equal("answered", await first);
        clients.ForEach(client => client.Dispose());
    }

    private static Task<string> AskAsync(HttpClient client) =>
        client.GetStringAsync("does-not").WaitAsync(TimeSpan.FromMinutes(1), TestContext.Current.CancellationToken);
}
