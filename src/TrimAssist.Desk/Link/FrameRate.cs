namespace TrimAssist.Desk.Link;

/// <summary>Frames per second over the last second or so.</summary>
internal sealed class FrameRate
{
    private double _since;
    private long _frames;

    /// <summary>The rate; 0 while nothing arrives.</summary>
    public double PerSecond { get; private set; }

    /// <summary>Looks at the count.</summary>
    public void Tick(double now, long frames)
    {
        if (now - _since < 1)
            return;
        PerSecond = (frames - _frames) / (now - _since);
        (_since, _frames) = (now, frames);
    }
}
