namespace TrimAssist.Audio.Loudness;

/// <summary>The mean of the last n values; <see langword="null"/> until there are n.</summary>
/// <param name="length">n.</param>
internal sealed class PowerWindow(int length)
{
    private readonly double[] _values = new double[length];
    private double _sum;
    private int _next;
    private bool _full;

    /// <summary>The mean of the last values, never negative.</summary>
    public double? Mean => _full ? Math.Max(0, _sum) / _values.Length : null;

    /// <summary>Takes a value; the oldest leaves.</summary>
    public void Add(double value)
    {
        _sum += value - _values[_next];
        _values[_next++] = value;
        if (_next < _values.Length)
            return;
        _next = 0;
        _full = true;
        _sum = SumAnew();
    }

    /// <summary>Once a turn the sum is built afresh, so that a loud past leaves no rounding behind.</summary>
    private double SumAnew()
    {
        var sum = 0.0;
        foreach (var value in _values)
            sum += value;
        return sum;
    }
}
