using System.Collections.Concurrent;
using System.Net;
using TrimAssist.Desk.Link.Transport;
using TrimAssist.Desk.Network;
using TrimAssist.Desk.Profiles;

namespace TrimAssist.Desk.Link;

/// <summary>
/// The one thread that owns a desk: receives, lets the session work, and runs what others post to it. Awaits of posted work
/// continue on the same thread. A synchronous receive, because an asynchronous one costs tens of times more per datagram.
/// </summary>
public sealed class DeskLoop : IAsyncDisposable
{
    /// <summary>How much work from outside may wait.</summary>
    private const int Room = 1024;

    /// <summary>Datagrams taken before posted work gets its turn.</summary>
    private const int MostAtOnce = 512;

    private static readonly TimeSpan LongestWait = TimeSpan.FromMilliseconds(5);

    private readonly ConcurrentQueue<Action> _posted = new();
    private readonly CancellationTokenSource _stopping = new();
    private readonly TaskCompletionSource _ended = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private readonly IDeskSocket _socket;
    private readonly SinkGuard _sink;
    private readonly Action[] _steps;
    private readonly NoteLimit _overflows = new();
    private readonly Thread _thread;
    private int _waiting;
    private long _overflowed;
    private bool _started;

    /// <summary>Opens the socket; nothing runs before <see cref="Start"/>.</summary>
    /// <param name="profile">The desk's profile.</param>
    /// <param name="sink">Hears what the session finds out.</param>
    /// <param name="time">The clock.</param>
    /// <param name="turn">Called on the loop after each turn, at least every few milliseconds.</param>
    /// <param name="tap">Sees every packet; <see langword="null"/> for nobody.</param>
    /// <exception cref="DeskConnectException">The socket cannot be opened.</exception>
    public DeskLoop(DeskProfile profile, IDeskSink sink, TimeProvider time, Action turn, IPacketTap? tap = null)
        : this(profile, DeskSockets.Open(profile, time), sink, time, turn, tap)
    {
    }

    /// <summary>Takes a socket that somebody else opened.</summary>
    internal DeskLoop(DeskProfile profile, IDeskSocket socket, IDeskSink sink, TimeProvider time, Action turn, IPacketTap? tap)
    {
        _socket = socket;
        _sink = new SinkGuard(sink, time);
        Session = new DeskSession(profile, _sink, _socket, _socket.Sources, time, tap);
        _steps = [Hear, Session.TickWhenDue, NoteOverflow, RunPosted, turn];
        _thread = new Thread(Run) { IsBackground = true, Name = $"desk {profile.Id}" };
    }

    /// <summary>The session; touch it on the loop only.</summary>
    public DeskSession Session { get; }

    /// <summary>Where this side listens; <see langword="null"/> while a connection is being made.</summary>
    public IPEndPoint? LocalEndPoint => _socket.LocalEndPoint;

    /// <summary>The room for what waits to be fetched that the system granted, in bytes; <see langword="null"/> where there are no datagrams.</summary>
    public int? ReceiveBuffer => _socket.ReceiveBuffer;

    /// <summary>Datagrams that the system threw away because the loop did not fetch them in time; <see langword="null"/> where it does not say.</summary>
    public long? Overflowed => _socket.Overflowed;

    /// <summary>Begins.</summary>
    public void Start()
    {
        _started = true;
        _thread.Start();
    }

    /// <summary>Runs work on the loop and gives its answer back.</summary>
    /// <exception cref="InvalidOperationException">Too much waits, or the loop has stopped.</exception>
    public Task<T> RunAsync<T>(Func<Task<T>> work)
    {
        if (_stopping.IsCancellationRequested)
            return Task.FromCanceled<T>(new CancellationToken(canceled: true));
        if (Interlocked.Increment(ref _waiting) > Room)
        {
            Interlocked.Decrement(ref _waiting);
            throw new InvalidOperationException("Too much waits for the desk's loop.");
        }

        var answer = new TaskCompletionSource<T>(TaskCreationOptions.RunContinuationsAsynchronously);
        _posted.Enqueue(() => _ = AnswerAsync(work, answer));
        if (_ended.Task.IsCompleted)
            answer.TrySetCanceled();
        return answer.Task;
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        if (_stopping.IsCancellationRequested)
            return;
        await _stopping.CancelAsync();
        if (_started)
            await _ended.Task;
        _socket.Dispose();
        _stopping.Dispose();
    }

    private async Task AnswerAsync<T>(Func<Task<T>> work, TaskCompletionSource<T> answer)
    {
        Interlocked.Decrement(ref _waiting);
        try
        {
            answer.TrySetResult(await work());
        }
        catch (OperationCanceledException cancelled)
        {
            answer.TrySetCanceled(cancelled.CancellationToken);
        }
        catch (Exception failed)
        {
            // Whoever asked gets the failure; the loop goes on.
            answer.TrySetException(failed);
        }
    }

    private void Run()
    {
        SynchronizationContext.SetSynchronizationContext(new LoopContext(_posted));
        try
        {
            Guarded(Session.Start);
            while (!_stopping.IsCancellationRequested)
            {
                foreach (var step in _steps)
                    Guarded(step);
            }

            Guarded(Session.End);
        }
        finally
        {
            // Whoever posts from now on sees the end; whoever was earlier still gets an answer.
            _ended.SetResult();
            while (!_posted.IsEmpty)
                Guarded(RunPosted);
        }
    }

    private void Hear()
    {
        _socket.Wait(LongestWait);
        _socket.Drain(Session, MostAtOnce);
    }

    private void NoteOverflow()
    {
        if (_socket.Overflowed is not { } overflowed || overflowed <= _overflowed || _overflows.Count(Session.Elapsed()) == 0)
            return;
        _sink.OnDeskNote(new DeskNote(
            DeskNoteKind.Overflowed,
            $"The system threw away {overflowed - _overflowed} datagrams that could not be fetched in time: its buffer holds {ReceiveBuffer / 1024} KiB, or the machine is too busy."));
        _overflowed = overflowed;
    }

    // Whatever goes wrong in one step, the others take their turn and the desk is heard in the next.
    private void Guarded(Action step)
    {
        try
        {
            step();
        }
        catch (Exception fault) when (SinkGuard.IsBearable(fault))
        {
            _sink.Report(fault);
        }
    }

    private void RunPosted()
    {
        if (_posted.IsEmpty)
            return;
        for (var left = _posted.Count; left > 0 && _posted.TryDequeue(out var work); left--)
            work();
    }

    private sealed class LoopContext(ConcurrentQueue<Action> posted) : SynchronizationContext
    {
        public override void Post(SendOrPostCallback d, object? state) => posted.Enqueue(() => d(state));

        public override SynchronizationContext CreateCopy() => new LoopContext(posted);
    }
}
