using TrimAssist.Desk.Profiles;
using TrimAssist.Desk.Profiles.Values;

namespace TrimAssist.Desk.Link.Tongues;

/// <summary>
/// What a desk speaks: turns packets into meter values and settings, and questions and changes into packets. Sends nothing and knows no
/// link state. Owned by the session's thread.
/// </summary>
internal interface IDeskTongue
{
    /// <summary>Takes in a packet. Meters go through without allocation.</summary>
    /// <param name="packet">The packet.</param>
    /// <param name="sender">The sender's address bytes.</param>
    /// <param name="now">The session's time.</param>
    void Receive(ReadOnlySpan<byte> packet, ReadOnlySpan<byte> sender, double now);

    /// <summary>Gives out what has waited for its other half long enough.</summary>
    void Tick(double now);

    /// <summary>Begins afresh: whoever speaks from now on knows nothing of what was said before.</summary>
    void Begin();

    /// <summary>Something was lost: gives up what was begun and cannot be finished.</summary>
    void Skip();

    /// <summary>The packet that asks for a control's value; <see langword="null"/> where it cannot be asked for.</summary>
    byte[]? Question(ControlProfile control, int input);

    /// <summary>The packets of a subscription.</summary>
    IEnumerable<byte[]> Subscription(SubscriptionProfile subscription);

    /// <summary>The packet that sets a control; <see langword="null"/> where the value cannot be expressed. For the writer only.</summary>
    byte[]? Change(ControlProfile control, int input, WireValue value);
}
