using TrimAssist.Core.Meters;

namespace TrimAssist.Service.Measure;

/// <summary>Lets rows through whose time is after their channel's last one.</summary>
internal sealed class RowOrder
{
    private readonly Dictionary<int, double> _last = [];

    /// <summary>The time of a channel's last row that was let through; <see langword="null"/> before the first.</summary>
    public double? LastOf(int channel) => _last.TryGetValue(channel, out var time) ? time : null;

    /// <summary>Whether the row is in order.</summary>
    public bool Takes(in MeterReading reading)
    {
        if (LastOf(reading.Input) is { } last && reading.TimeS <= last)
            return false;
        _last[reading.Input] = reading.TimeS;
        return true;
    }
}
