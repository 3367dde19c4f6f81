namespace TrimAssist.Core.Listening.Jumps;

/// <summary>The level of the mean power of a few frames.</summary>
/// <remarks>
/// By definition 10 lg of the mean of 10^(level/10). Worked out from the levels' distances it costs a fraction of that and differs by less than
/// 1e-9 dB. Where so little could show in the float that is answered, the definition answers.
/// </remarks>
/// <param name="usual">How many levels are usually taken in.</param>
internal sealed class MeanLevel(int usual)
{
    /// <summary>More than the quick ways can be off, in dB.</summary>
    private const double SlackDb = 1e-8;

    /// <summary>Up to here (two levels 3 dB apart) what the series leaves out is a twentieth of <see cref="SlackDb"/>.</summary>
    private const double NearNepers = 0.12;

    private const double NepersPerBel = 2.302585092994046;
    private const double DbPerNeper = 4.342944819032518;

    private readonly float[] _bels = new float[usual];
    private readonly double _countDb = 10 * Math.Log10(usual);
    private int _held;
    private double _power;
    private int _powers;

    /// <summary>Takes a level in dB in.</summary>
    public void Add(float levelDb)
    {
        if (_held == _bels.Length)
            SumPowers();
        _bels[_held++] = levelDb / 10;
    }

    /// <summary>Lets go of everything taken in.</summary>
    public void Clear() => (_held, _power, _powers) = (0, 0, 0);

    /// <summary>The level of the mean power in dB; NaN where nothing was taken in.</summary>
    public float Db()
    {
        if (_held != _bels.Length || _powers > 0)
            return InFull();
        var half = _bels.Length == 2 ? (_bels[0] - (double)_bels[1]) * (NepersPerBel / 2) : double.NaN;
        var db = half * half < NearNepers ? OfTwo(_bels[0], _bels[1], half * half) : OfMany();
        var rounded = (float)(db - SlackDb);
        return rounded == (float)(db + SlackDb) ? rounded : InFull();
    }

    private double OfMany()
    {
        double first = _bels[0], sum = 1;
        for (var i = 1; i < _bels.Length; i++)
            sum += Math.Exp((_bels[i] - first) * NepersPerBel);
        return (10 * first) + ((Math.Log(sum) * DbPerNeper) - _countDb);
    }

    /// <summary>The mean of two levels lies ln cosh of half their distance above the middle, in nepers: the series of that up to the twelfth power.</summary>
    private static double OfTwo(double bel, double other, double square)
    {
        var (fourth, eighth) = (square * square, square * square * square * square);
        var series = ((1 / 2.0) - (1 / 12.0 * square)) + (((1 / 45.0) - (17 / 2520.0 * square)) * fourth) + (((31 / 14175.0) - (691 / 935550.0 * square)) * eighth);
        return (5 * (bel + other)) + (DbPerNeper * square * series);
    }

    /// <summary>The same by the definition; levels that are not finite come here too, as no number is equal to NaN.</summary>
    public float InFull()
    {
        SumPowers();
        return _powers > 0 ? (float)(10 * Math.Log10(_power / _powers)) : float.NaN;
    }

    private void SumPowers()
    {
        foreach (var bel in _bels.AsSpan(0, _held))
            _power += Math.Pow(10, bel);
        (_powers, _held) = (_powers + _held, 0);
    }
}
