namespace TrimAssist.Core.Listening.Levels;

/// <summary>What one input's meters said over the last hour, in cells of a tenth of a second (or one frame, where frames are longer).</summary>
/// <remarks>Levels are kept referred to the input, that is, less the gain that stood when they were read, in hundredths of a dB. Adding allocates nothing; when the hour is full the oldest cells are forgotten.</remarks>
internal sealed class LevelTape
{
    /// <summary>Shortest length of a cell in seconds.</summary>
    public const double ShortestCellS = 0.1;

    // a level in dB to the exponent of its energy: ln 10 / 10
    private const double NepersPerDb = 0.23025850929940458;

    private const double HoldS = 3600;
    private const short NoReading = short.MinValue;

    // in cells: times are rounded; and what is further from a cell's end than this cannot be in the next one
    private const double TimeSlack = 1e-6;
    private const double CellSlack = 1e-5;
    private readonly short[] _peak;
    private readonly short[] _energy;
    private readonly bool[] _cut;
    private long _first = -1;
    private long _current = -1;
    private int _slot;
    private double _surelyUntilS = double.NegativeInfinity;
    private double _energySum;
    private int _energyCount;
    private double _highest = double.NegativeInfinity;
    private bool _hasPeak;
    private double _cutFromS = double.PositiveInfinity;
    private double _cutUntilS = double.NegativeInfinity;

    /// <summary>Makes an empty tape.</summary>
    /// <param name="frameS">Length of a meter frame in seconds.</param>
    public LevelTape(double frameS)
    {
        CellS = Math.Max(ShortestCellS, frameS);
        var capacity = (int)Math.Ceiling(HoldS / CellS);
        // Pinned arrays are never copied about: a tape costs real memory only as far as it has been written.
        (_peak, _energy, _cut) = (GC.AllocateArray<short>(capacity, pinned: true), GC.AllocateArray<short>(capacity, pinned: true), GC.AllocateArray<bool>(capacity, pinned: true));
    }

    /// <summary>Length of a cell in seconds.</summary>
    public double CellS { get; }

    /// <summary>Writes down one frame.</summary>
    /// <param name="timeS">The middle of the frame; never runs backwards.</param>
    /// <param name="peakDb">Its peak referred to the input, NaN where it says nothing.</param>
    /// <param name="energyDb">Its mean energy as a level referred to the input, NaN where it says nothing.</param>
    public void Add(double timeS, double peakDb, double energyDb)
    {
        // no earlier than the frame before: a division says nothing new until the cell's end is near
        if (timeS > _surelyUntilS && CellAt(timeS) is var cell && cell != _current)
            MoveTo(cell);
        if (!double.IsNaN(peakDb))
            (_hasPeak, _highest) = (true, double.MaxNative(_highest, peakDb));
        if (double.IsNaN(energyDb))
            return;
        _energySum += Math.Exp(energyDb * NepersPerDb);
        _energyCount++;
    }

    /// <summary>Raises everything heard so far.</summary>
    public void Raise(double db)
    {
        if (_current < 0)
            return;
        Store();
        for (var cell = Oldest; cell <= _current; cell++)
        {
            var slot = Slot(cell);
            (_peak[slot], _energy[slot]) = (Stored(Level(_peak[slot]) + db), Stored(Level(_energy[slot]) + db));
        }

        (_highest, _energySum) = (_highest + db, _energySum * Math.Pow(10, db / 10));
    }

    /// <summary>Cuts a stretch out of everything that is worked out later; it may lie partly ahead.</summary>
    public void Cut(double fromS, double untilS)
    {
        (_cutFromS, _cutUntilS) = (Math.Min(_cutFromS, fromS), Math.Max(_cutUntilS, untilS));
        if (_current < 0)
            return;
        var from = Math.Max(CellAt(Math.Max(fromS, 0)), Oldest);
        for (var cell = from; cell <= Math.Min(CellAt(untilS), _current); cell++)
            _cut[Slot(cell)] = true;
        if (untilS < (_current + 1) * CellS)
            (_cutFromS, _cutUntilS) = (double.PositiveInfinity, double.NegativeInfinity);
    }

    /// <summary>Cells from the oldest kept to the present one.</summary>
    public int Length => _current < 0 ? 0 : (int)(_current - Oldest + 1);

    /// <summary>Copies the tape, oldest cell first, with a gain put on.</summary>
    /// <param name="gainDb">The gain to read the levels at.</param>
    /// <param name="fromS">Where to begin: with the first cell that begins then or later.</param>
    public TapeCopy Read(double gainDb, double fromS = 0)
    {
        if (_current < 0)
            return new TapeCopy(0, CellS, [], []);
        Store();
        var first = Math.Clamp((long)Math.Ceiling(fromS / CellS), Oldest, _current + 1);
        var length = (int)(_current + 1 - first);
        var (peak, energy) = (new double[length], new double[length]);
        for (var i = 0; i < length; i++)
        {
            var slot = Slot(first + i);
            peak[i] = _cut[slot] ? double.NaN : Level(_peak[slot]) + gainDb;
            energy[i] = _cut[slot] ? double.NaN : Level(_energy[slot]) + gainDb;
        }

        return new TapeCopy(first * CellS, CellS, peak, energy);
    }

    private long Oldest => Math.Max(_first, _current - _peak.Length + 1);

    private static double Level(short stored) => stored == NoReading ? double.NaN : stored / 100.0;

    private static short Stored(double db) =>
        double.IsNaN(db) ? NoReading : (short)Math.Clamp(Math.Round(db * 100), NoReading + 1, short.MaxValue);

    private long CellAt(double timeS) => (long)Math.Floor(timeS / CellS + TimeSlack);

    private int Slot(long cell) => (int)(cell % _peak.Length);

    private void MoveTo(long cell)
    {
        if (_current < 0)
            _first = cell;
        else
            Store();
        // a gap longer than the tape leaves nothing but gaps: one round marks them all
        for (var gap = Math.Max(_current + 1, cell - _peak.Length); gap <= cell; gap++)
        {
            var slot = Slot(gap);
            (_peak[slot], _energy[slot], _cut[slot]) = (NoReading, NoReading, IsCut(gap));
        }

        (_current, _slot, _surelyUntilS) = (cell, Slot(cell), (cell + 1 - CellSlack) * CellS);
        (_energySum, _energyCount, _highest, _hasPeak) = (0, 0, double.NegativeInfinity, false);
    }

    private bool IsCut(long cell) => cell * CellS <= _cutUntilS && (cell + 1) * CellS > _cutFromS;

    private void Store()
    {
        _peak[_slot] = _hasPeak ? Stored(_highest) : NoReading;
        _energy[_slot] = _energyCount > 0 ? Stored(10 * Math.Log10(_energySum / _energyCount)) : NoReading;
    }
}
