namespace TrimAssist.Core.Listening.Jumps;

/// <summary>
/// How quiet this input usually is: the middle of the lowest readings of each second of the last minute. A plug that is out for less than
/// half a minute does not move it.
/// </summary>
internal sealed class UsualRest(double frameS)
{
    private const int Seconds = 60;

    private readonly int _blockFrames = Math.Max(1, (int)Math.Round(1 / frameS));
    private readonly float[] _lowest = new float[Seconds];
    private readonly float[] _sorted = new float[Seconds];
    private float _current = float.MaxValue;
    private int _inBlock;
    private int _blocks;

    /// <summary>The level in dBFS; NaN until one second was heard.</summary>
    public float Dbfs { get; private set; } = float.NaN;

    public void Clear() => (_current, _inBlock, _blocks, Dbfs) = (float.MaxValue, 0, 0, float.NaN);

    public void Add(float peak)
    {
        _current = float.MinNative(_current, peak);
        if (++_inBlock < _blockFrames)
            return;
        Keep(_current);
        (_current, _inBlock) = (float.MaxValue, 0);
    }

    /// <summary>Puts a second's lowest reading in its place among the sorted ones, instead of the one of a minute ago.</summary>
    private void Keep(float lowest)
    {
        var (slot, held) = (_blocks % Seconds, Math.Min(_blocks, Seconds));
        if (held == Seconds)
        {
            var gone = Array.BinarySearch(_sorted, 0, held, _lowest[slot]);
            held--;
            Array.Copy(_sorted, gone + 1, _sorted, gone, held - gone);
        }

        var at = Array.BinarySearch(_sorted, 0, held, lowest);
        at = at < 0 ? ~at : at;
        Array.Copy(_sorted, at, _sorted, at + 1, held - at);
        _sorted[at] = _lowest[slot] = lowest;
        _blocks++;
        Dbfs = _sorted[(held + 1) / 2];
    }
}
