using TrimAssist.Core.Meters;
using TrimAssist.Desk.Profiles;

namespace TrimAssist.Desk.Link.Metering;

/// <summary>Where the values of the meter sources go, and the readings that are made of them.</summary>
internal interface IMeterTarget
{
    /// <summary>A new frame's value, from one source.</summary>
    void Take(MeterQuantity quantity, int input, float level, double timeS);

    /// <summary>A frame that was heard already.</summary>
    void Repeated();

    /// <summary>All that is known of one input in one frame.</summary>
    void Give(in MeterReading reading);
}
