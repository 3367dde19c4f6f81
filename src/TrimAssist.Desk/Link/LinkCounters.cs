namespace TrimAssist.Desk.Link;

/// <summary>What a session has counted since it began.</summary>
/// <param name="Received">Packets that were let in.</param>
/// <param name="Dropped">Packets from sources that are not let in.</param>
/// <param name="Malformed">Packets, or messages in them, that are no OSC or carry no usable value.</param>
/// <param name="Unmatched">Messages under addresses that the profile does not know.</param>
/// <param name="Duplicates">Meter frames that came twice or too late.</param>
/// <param name="FramesHeard">Meter frames heard.</param>
/// <param name="FramesLost">Meter frames missing in gaps, on the input that lost most.</param>
/// <param name="FrameRate">Meter frames per second over the last second or so; 0 while nothing arrives.</param>
public sealed record LinkCounters(
    long Received, long Dropped, long Malformed, long Unmatched, long Duplicates, long FramesHeard, long FramesLost, double FrameRate);
