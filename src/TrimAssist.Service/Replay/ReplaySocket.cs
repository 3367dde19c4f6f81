using System.Collections.Concurrent;
using System.Net;
using TrimAssist.Core.Wording;
using TrimAssist.Desk.Link.Transport;
using TrimAssist.Desk.Network;

namespace TrimAssist.Service.Replay;

/// <summary>A recorded desk in the place of a real one: gives out what was recorded, and what is sent to it goes nowhere.</summary>
internal sealed class ReplaySocket : IDeskSocket
{
    private readonly ConcurrentQueue<Batch> _batches = new();
    private readonly AutoResetEvent _moved = new(initialState: false);
    private volatile bool _isOver;

    /// <inheritdoc/>
    public SourceFilter Sources => SourceFilter.ForReplay;

    /// <inheritdoc/>
    public IPEndPoint? LocalEndPoint => null;

    /// <inheritdoc/>
    public Saying? Trouble => null;

    /// <inheritdoc/>
    public IReadOnlyList<IPAddress> Engines => [];

    /// <inheritdoc/>
    public int? ReceiveBuffer => null;

    /// <inheritdoc/>
    public long? Overflowed => null;

    /// <summary>Gives packets to the desk's loop.</summary>
    /// <returns>Ends when they have been heard.</returns>
    public Task PlayAsync(IReadOnlyList<RecordedPacket> packets)
    {
        var batch = new Batch(packets, new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously));
        _batches.Enqueue(batch);
        if (_isOver)
            batch.Heard.TrySetCanceled();
        else
            _moved.Set();
        return batch.Heard.Task;
    }

    /// <inheritdoc/>
    public void Wait(TimeSpan wait) => _moved.WaitOne(wait);

    /// <inheritdoc/>
    public void Drain(IPacketSink sink, int most)
    {
        while (_batches.TryDequeue(out var batch))
        {
            foreach (var packet in batch.Packets)
                sink.Receive(packet.Bytes, new IPEndPoint(packet.Sender, 0).Serialize());
            batch.Heard.TrySetResult();
        }
    }

    /// <inheritdoc/>
    public bool TrySend(ReadOnlySpan<byte> packet, out string? fault)
    {
        fault = null;
        return true;
    }

    /// <inheritdoc/>
    public void Redirect(IPAddress engine)
    {
        // The recording goes on with whoever spoke then.
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        // The event is left to the collector: whoever plays may be just about to set it.
        _isOver = true;
        while (_batches.TryDequeue(out var batch))
            batch.Heard.TrySetCanceled();
    }

    private sealed record Batch(IReadOnlyList<RecordedPacket> Packets, TaskCompletionSource Heard);
}
