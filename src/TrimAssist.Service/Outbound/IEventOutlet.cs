using TrimAssist.Service.Events;

namespace TrimAssist.Service.Outbound;

/// <summary>A way on which events leave the service for others. Nothing ever comes back on it.</summary>
internal interface IEventOutlet
{
    /// <summary>What it is called in logs and figures.</summary>
    string Name { get; }

    /// <summary>Events that were never delivered: the queue was full, or the receiver would not have them.</summary>
    long Dropped { get; }

    /// <summary>Events that the receiver took.</summary>
    long Delivered { get; }

    /// <summary>Takes an event. Returns at once, whatever the receiver does.</summary>
    void Offer(ServerEvent item);

    /// <summary>Delivers until told to stop. A receiver that is away or wrong is no reason to end.</summary>
    Task RunAsync(CancellationToken stopping);
}
