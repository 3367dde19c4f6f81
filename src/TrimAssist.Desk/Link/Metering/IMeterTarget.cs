using TrimAssist.Desk.Profiles;

namespace TrimAssist.Desk.Link.Metering;

/// <summary>Where meter sources put their values.</summary>
internal interface IMeterTarget
{
    /// <summary>A new frame's value.</summary>
    void Take(MeterQuantity quantity, int input, float level, double timeS);

    /// <summary>A frame that was heard already.</summary>
    void Repeated();
}
