namespace TrimAssist.Desk.Link.Metering;

/// <summary>One input's frame in the making: peak and RMS may come from different sources.</summary>
/// <remarks>A mutable struct in an array: the hot path.</remarks>
internal struct MeterSlot
{
    private const int GiveUp = 3;

    /// <summary>Whether the input has a second quantity that comes at the same pace and is worth waiting for.</summary>
    public bool HasCompanion { get; set; }

    /// <summary>Whether the RMS leads, because the input has no peak or a slower one.</summary>
    public bool RmsLeads { get; set; }

    /// <summary>The leading value that waits for its companion.</summary>
    public float Leader { get; set; }

    /// <summary>The end of the leading value's frame.</summary>
    public double LeaderTime { get; set; }

    /// <summary>When the leading value came.</summary>
    public double LeaderArrival { get; set; }

    /// <summary>Whether a leading value waits.</summary>
    public bool HasLeader { get; set; }

    /// <summary>A companion that came before its leader.</summary>
    public float Companion { get; set; }

    /// <summary>The end of that companion's frame.</summary>
    public double CompanionTime { get; set; }

    /// <summary>When that companion came.</summary>
    public double CompanionArrival { get; set; }

    /// <summary>Whether such a companion is there.</summary>
    public bool HasEarlyCompanion { get; set; }

    /// <summary>How many leaders in a row went without.</summary>
    public int Misses { get; set; }

    /// <summary>The time of the last reading given out.</summary>
    public double LastTime { get; set; }

    /// <summary>Whether a leader should wait: not when the other source has fallen silent.</summary>
    public readonly bool ShouldWait => HasCompanion && Misses < GiveUp;
}
