namespace TrimAssist.Core.Listening.Jumps;

/// <summary>How quiet this input gets while it is connected: the lowest reading of the last half minute.</summary>
internal sealed class RestFloor(double frameS)
{
    private const int Blocks = 30;

    private readonly int _blockFrames = Math.Max(1, (int)Math.Round(1 / frameS));
    private readonly float[] _lowest = new float[Blocks];
    private float _current = float.MaxValue;
    private int _inBlock;
    private long _full;

    /// <summary>The lowest reading in dBFS; NaN until one second was heard.</summary>
    public float Dbfs { get; private set; } = float.NaN;

    /// <summary>Whole seconds that went into it.</summary>
    public long HeardS => _full;

    public void Clear()
    {
        (_current, _inBlock, _full, Dbfs) = (float.MaxValue, 0, 0, float.NaN);
    }

    public void Add(float peak)
    {
        _current = float.MinNative(_current, peak);
        if (!float.IsNaN(Dbfs))
            Dbfs = float.MinNative(Dbfs, peak);
        if (++_inBlock < _blockFrames)
            return;
        _lowest[_full++ % Blocks] = _current;
        (_current, _inBlock) = (float.MaxValue, 0);
        var lowest = float.MaxValue;
        foreach (var block in _lowest.AsSpan(0, (int)Math.Min(_full, Blocks)))
            lowest = float.MinNative(lowest, block);
        Dbfs = lowest;
    }
}
