using Polly;
using Polly.Retry;

namespace TrimAssist.Service.Outbound;

/// <summary>How long to wait before another try: growing, capped, and jittered so that many services do not come back at once.</summary>
internal static class OutboundPace
{
    /// <summary>The first wait.</summary>
    public static readonly TimeSpan First = TimeSpan.FromSeconds(1);

    /// <summary>The longest wait.</summary>
    public static readonly TimeSpan Longest = TimeSpan.FromMinutes(1);

    /// <summary>How long one try may take: a receiver that hangs is left.</summary>
    public static readonly TimeSpan OneTry = TimeSpan.FromSeconds(5);

    /// <summary>Retries with that pace, each try bounded.</summary>
    /// <param name="time">The clock.</param>
    /// <param name="tries">How often to try again.</param>
    /// <param name="again">Which outcomes are worth another try.</param>
    public static ResiliencePipeline<T> Retrying<T>(TimeProvider time, int tries, Func<Outcome<T>, bool> again) =>
        new ResiliencePipelineBuilder<T> { TimeProvider = time }
            .AddRetry(new RetryStrategyOptions<T>
            {
                ShouldHandle = outcome => ValueTask.FromResult(again(outcome.Outcome)),
                MaxRetryAttempts = tries,
                BackoffType = DelayBackoffType.Exponential,
                UseJitter = true,
                Delay = First,
                MaxDelay = Longest,
            })
            .AddTimeout(OneTry)
            .Build();
}
