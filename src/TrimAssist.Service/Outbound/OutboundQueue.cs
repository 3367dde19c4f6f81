using System.Threading.Channels;
using TrimAssist.Service.Events;

namespace TrimAssist.Service.Outbound;

/// <summary>What waits to leave. When it is full the oldest gives way, and is counted: a receiver that comes back wants the present.</summary>
internal sealed class OutboundQueue
{
    /// <summary>How many events may wait.</summary>
    public const int Room = 1000;

    private readonly Channel<ServerEvent> _waiting;
    private long _dropped;

    public OutboundQueue() => _waiting = Channel.CreateBounded<ServerEvent>(
        new BoundedChannelOptions(Room) { FullMode = BoundedChannelFullMode.DropOldest, SingleReader = true },
        _ => Interlocked.Increment(ref _dropped));

    /// <summary>Events that gave way or were given up.</summary>
    public long Dropped => Interlocked.Read(ref _dropped);

    /// <summary>Takes an event; never waits.</summary>
    public void Offer(ServerEvent item) => _waiting.Writer.TryWrite(item);

    /// <summary>The next event, when there is one.</summary>
    public ValueTask<ServerEvent> NextAsync(CancellationToken stopping) => _waiting.Reader.ReadAsync(stopping);

    /// <summary>Counts one that was taken and could not be delivered.</summary>
    public void GiveUp() => Interlocked.Increment(ref _dropped);
}
