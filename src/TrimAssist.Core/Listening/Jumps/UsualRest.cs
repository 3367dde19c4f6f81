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
        _current = Math.Min(_current, peak);
        if (++_inBlock < _blockFrames)
            return;
        _lowest[_blocks++ % Seconds] = _current;
        (_current, _inBlock) = (float.MaxValue, 0);
        var held = Math.Min(_blocks, Seconds);
        Array.Copy(_lowest, _sorted, held);
        Array.Sort(_sorted, 0, held);
        Dbfs = _sorted[held / 2];
    }
}
