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
        using var http = new HttpClient { BaseAddress = new Uri(app.Urls.Single()) };

        var first = http.GetStringAsync("blocks", cancellationToken);
        await blocked.Task.WaitAsync(cancellationToken);
        // More than the system has pollers for, each on a connection of its own.
        var others = Enumerable.Range(0, Environment.ProcessorCount + 2).Select(_ => http.GetStringAsync("does-not", cancellationToken)).ToList();
        Assert.All(await Task.WhenAll(others).WaitAsync(TimeSpan.FromMinutes(1), cancellationToken), answer => Assert.Equal("answered", answer));
        Assert.False(first.IsCompleted);

        released.Set();
        Assert.Equal("answered", await first);
    }
}
