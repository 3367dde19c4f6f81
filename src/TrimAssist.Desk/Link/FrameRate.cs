namespace TrimAssist.Desk.Link;

/// <summary>Meter frames per second over the last second or so, and whether they come as the profile says.</summary>
internal sealed class FrameRate(double frameS)
{
    private const int Patience = 5;
    private double _since;
    private long _frames;
    private int _odd;
    private bool _told;

    /// <summary>The rate; 0 while nothing arrives.</summary>
    public double PerSecond { get; private set; }

    /// <summary>Whether it is time to look again.</summary>
    public bool IsDue(double now) => now - _since >= 1;

    /// <summary>Looks at the count; <see langword="true"/> once, when the rate has been far from the profile's for some seconds.</summary>
    public bool Look(double now, long frames)
    {
        PerSecond = (frames - _frames) / (now - _since);
        (_since, _frames) = (now, frames);

        // Loss makes a rate too low: only much of it is a wrong profile.
        var ratio = PerSecond * frameS;
        _odd = ratio is 0 or (> 0.6 and < 1.25) ? 0 : _odd + 1;
        if (_told || _odd < Patience)
            return false;
        _told = true;
        return true;
    }
}
