using System.Globalization;

namespace TrimAssist.Service.Events;

/// <summary>
/// Carries what happens to every client of the event stream. The last <see cref="Kept"/> events are kept, so that a client
/// that lost its connection misses nothing; meters are not kept and a slow client simply gets fewer of them.
/// </summary>
/// <remarks>Called by every desk's loop and by clients; the lock guards lists only and is never held across a wait.</remarks>
public sealed class EventHub
{
    /// <summary>How many events are kept for clients that come back.</summary>
    public const int Kept = 16_384;

    /// <summary>How many clients may listen at once.</summary>
    public const int MaxClients = 64;

    /// <summary>How many of them one credential may have: nobody takes the stream from the engineer.</summary>
    public const int MaxOfOne = 8;

    /// <summary>How many of them may come without a credential, from this machine: the others are for those who were paired.</summary>
    public const int MaxWithout = 48;

    private readonly Lock _gate = new();
    private readonly Queue<(long Number, ServerEvent Event)> _kept = new();
    private readonly List<EventClient> _clients = [];
    private readonly string _epoch;
    private long _last;
    private int _clientCount;

    /// <summary>Makes a hub whose ids cannot be mistaken for those of an earlier run.</summary>
    public EventHub(TimeProvider time) => _epoch = time.GetUtcNow().ToUnixTimeMilliseconds().ToString("x", CultureInfo.InvariantCulture);

    /// <summary>Whether anybody listens: meters are not even written down otherwise.</summary>
    public bool HasClients => Volatile.Read(ref _clientCount) > 0;

    /// <summary>How many clients listen.</summary>
    public int Clients => Volatile.Read(ref _clientCount);

    /// <summary>Sends an event that must not be missed.</summary>
    public void Publish(string kind, string json)
    {
        lock (_gate)
        {
            var number = ++_last;
            var item = new ServerEvent(kind, Id(number), json);
            _kept.Enqueue((number, item));
            if (_kept.Count > Kept)
                _kept.Dequeue();
            foreach (var client in _clients)
                client.Offer(item);
        }
    }

    /// <summary>Sends what is true for a moment only (meters, a lease) to whoever has room for it: never kept, never resumed.</summary>
    public void PublishPassing(string kind, string json)
    {
        var item = new ServerEvent(kind, null, json);
        lock (_gate)
        {
            foreach (var client in _clients)
                client.OfferPassing(item);
        }
    }

    /// <summary>Lets a client in.</summary>
    /// <param name="lastEventId">The last id it has seen; <see langword="null"/> for a new client.</param>
    /// <param name="snapshotNeeded">Whether events since then are no longer kept: the client needs everything as it stands now.</param>
    /// <param name="credential">The credential that it came with; <see langword="null"/> for whoever needs none.</param>
    /// <returns>The client; <see langword="null"/> when there are too many.</returns>
    public EventClient? Join(string? lastEventId, out bool snapshotNeeded, Guid? credential = null)
    {
        lock (_gate)
        {
            snapshotNeeded = false;
            if (Clients >= MaxClients || _clients.Count(one => one.Credential == credential) >= (credential is null ? MaxWithout : MaxOfOne))
                return null;
            var client = new EventClient(this, takesPassing: true, credential);
            if (lastEventId is not null)
                snapshotNeeded = OweSince(client, lastEventId);
            Add(client);
            return client;
        }
    }

    /// <summary>Lets a part of the service itself listen to what must not be missed; nobody needs to write down meters for it, and it has a place beside the clients'.</summary>
    /// <param name="lastEventId">The last id it has seen; <see langword="null"/> for a new one.</param>
    internal EventClient JoinInside(string? lastEventId)
    {
        lock (_gate)
        {
            var client = new EventClient(this, takesPassing: false, null);
            if (lastEventId is not null)
                OweSince(client, lastEventId);
            Add(client);
            return client;
        }
    }

    private bool OweSince(EventClient client, string lastEventId)
    {
        var seen = Number(lastEventId);
        var oldest = _kept.TryPeek(out var first) ? first.Number : _last + 1;
        foreach (var (_, item) in _kept.Where(kept => !(seen is null || seen > _last) && kept.Number > seen))
            client.Owe(item);
        return seen is null || seen > _last || seen + 1 < oldest;
    }

    private void Add(EventClient client)
    {
        _clients.Add(client);
        Count();
    }

    private void Count() => Volatile.Write(ref _clientCount, _clients.Count(client => client.TakesPassing));

    /// <summary>The id that the next snapshot carries: everything up to it is in the snapshot.</summary>
    public string CurrentId
    {
        get
        {
            lock (_gate)
                return Id(_last);
        }
    }

    internal void Leave(EventClient client)
    {
        lock (_gate)
        {
            _clients.Remove(client);
            Count();
        }
    }

    private string Id(long number) => string.Create(CultureInfo.InvariantCulture, $"{_epoch}-{number}");

    private long? Number(string id)
    {
        var dash = id.LastIndexOf('-');
        return dash > 0 && id.AsSpan(0, dash).SequenceEqual(_epoch)
            && long.TryParse(id.AsSpan(dash + 1), NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : null;
    }
}
