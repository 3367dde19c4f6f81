using System.Runtime.CompilerServices;
using System.Threading.Channels;

namespace TrimAssist.Service.Events;

/// <summary>One listener of the event stream.</summary>
public sealed class EventClient : IDisposable
{
    /// <summary>How many events may wait for a slow client before its connection is ended; it comes back with its last id.</summary>
    private const int Room = 2048;

    /// <summary>With this many waiting, meters and leases are left out.</summary>
    private const int RoomForPassing = 32;

    private readonly EventHub _hub;
    private readonly Queue<ServerEvent> _owed = new();
    private readonly Channel<ServerEvent> _waiting = Channel.CreateBounded<ServerEvent>(
        new BoundedChannelOptions(Room) { SingleReader = true, FullMode = BoundedChannelFullMode.Wait });

    internal EventClient(EventHub hub, Guid? credential) => (_hub, Credential) = (hub, credential);

    internal Guid? Credential { get; }

    /// <summary>Everything for this client, in order, until it leaves or falls too far behind.</summary>
    public async IAsyncEnumerable<ServerEvent> ReadAsync([EnumeratorCancellation] CancellationToken cancellationToken)
    {
        while (_owed.TryDequeue(out var owed))
            yield return owed;
        // A stream that is told to end ends like any other: an exception here would stand in the log as a fault.
        using var ends = cancellationToken.UnsafeRegister(static waiting => ((Channel<ServerEvent>)waiting!).Writer.TryComplete(), _waiting);
        await foreach (var item in _waiting.Reader.ReadAllAsync(CancellationToken.None))
            yield return item;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _hub.Leave(this);
        _waiting.Writer.TryComplete();
    }

    internal void Owe(ServerEvent item) => _owed.Enqueue(item);

    internal void Offer(ServerEvent item)
    {
        if (!_waiting.Writer.TryWrite(item))
            _waiting.Writer.TryComplete();
    }

    internal void OfferPassing(ServerEvent item)
    {
        if (_waiting.Reader.Count < RoomForPassing)
            _waiting.Writer.TryWrite(item);
    }
}
