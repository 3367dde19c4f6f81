using System.Net;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.TestKit.Desks;

/// <summary>The network side of a scripted desk.</summary>
public interface IDeskWire : IDisposable
{
    /// <summary>Where the desk is.</summary>
    IPEndPoint EndPoint { get; }

    /// <summary>Whether there is a service to speak to.</summary>
    bool HasService { get; }

    /// <summary>What the desk does with a message; by default nothing.</summary>
    Action<OscMessage> Answer { get; set; }

    /// <summary>Takes in and answers whatever waits.</summary>
    void Attend();

    /// <summary>Sends one packet to the service.</summary>
    void Say(ReadOnlySpan<byte> packet);

    /// <summary>Switches the desk off: it hears and says nothing, and knows nobody any more.</summary>
    void TurnOff();

    /// <summary>Switches it on again, where it was.</summary>
    void TurnOn();
}
