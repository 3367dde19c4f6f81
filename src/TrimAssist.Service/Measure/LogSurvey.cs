using TrimAssist.Core.Meters;

namespace TrimAssist.Service.Measure;

/// <summary>What a meter log holds, found by looking it over row by row.</summary>
internal sealed class LogSurvey
{
    private const int NamedRows = 20;
    private const double StepsPerS = 1000;
    private const int LongestStep = 10_000;
    private readonly RowOrder _order = new();
    private readonly SortedDictionary<int, ChannelTally> _channels = [];
    private readonly int[] _steps = new int[LongestStep + 1];
    private readonly List<string> _warnings = [];
    private int _bad;

    // A full-scale sine reads 0 dBFS RMS after AES17, -3.01 dBFS as a plain root mean square. Under AES17 the smallest
    // peak over RMS of much playing comes near 0 dB and below; a plain one stays above.
    private const double PlainSineCrestDb = 3.0103;
    private const double TightCrestDb = 2;
    private const double TightShare = 0.002;
    private const int LoudNeeded = 1000;

    /// <summary>Length of a frame: the median step between a channel's rows, in seconds.</summary>
    public double FrameS { get; private set; } = 0.05;

    /// <summary>Time of the first usable row.</summary>
    public double FirstS { get; private set; } = double.PositiveInfinity;

    /// <summary>Time of the last usable row.</summary>
    public double LastS { get; private set; } = double.NegativeInfinity;

    /// <summary>Channels with a usable row, lowest first.</summary>
    public IReadOnlyList<int> Channels => [.. _channels.Keys];

    /// <summary>What the user should know.</summary>
    public IReadOnlyList<string> Warnings => _warnings;

    /// <summary>What a pure tone shows between peak and RMS in this log, dB: 0 after AES17, 3.01 for the plain root mean square.</summary>
    public double SineCrestDb { get; private set; }

    /// <summary>The highest peak of a channel in dBFS; <see langword="null"/> where none was read.</summary>
    public double? HighestPeak(int channel) => double.IsFinite(_channels[channel].Highest) ? _channels[channel].Highest : null;

    /// <summary>Takes one row.</summary>
    public void Row(int number, string line)
    {
        if (string.IsNullOrWhiteSpace(line))
            return;
        var fault = MeterLogRow.Read(line, out var reading);
        var before = fault is null ? _order.LastOf(reading.Input) : null;
        if (fault is null && !_order.Takes(reading))
            fault = $"time_s is not after channel {reading.Input}'s row before";
        if (fault is not null)
        {
            if (_bad++ < NamedRows)
                _warnings.Add($"line {number}: {fault}; skipped");
            return;
        }

        if (before is { } last)
            _steps[(int)Math.Clamp(Math.Round((reading.TimeS - last) * StepsPerS), 0, LongestStep)]++;
        (FirstS, LastS) = (Math.Min(FirstS, reading.TimeS), Math.Max(LastS, reading.TimeS));
        if (!_channels.TryGetValue(reading.Input, out var tally))
            _channels[reading.Input] = tally = new ChannelTally();
        tally.Row(reading);
    }

    /// <summary>Ends the look: sets the frame length and writes the warnings that concern the whole log.</summary>
    public void Close()
    {
        if (_bad > NamedRows)
            _warnings.Add($"{_bad - NamedRows} more rows skipped");
        FrameS = MedianStepS() ?? FrameS;
        if (_channels.Count > 0 && _channels.Values.All(tally => !tally.HasRms))
            _warnings.Add("no rms_dbfs: levelDbfs, noiseFloorDbfs and signalToNoiseDb are worked out from the squares of the frame peaks");
        if (_channels.Values.Sum(tally => tally.Loud) is var loud and >= LoudNeeded
            && _channels.Values.Sum(tally => tally.Tight) <= TightShare * loud)
        {
            SineCrestDb = PlainSineCrestDb;
            _warnings.Add("rms_dbfs looks like the plain root mean square (hardly a peak lies less than 2 dB above it): a tone is taken to show 3 dB");
        }

        var some = _channels.Values.Any(tally => tally.HasRms);
        foreach (var (channel, tally) in _channels)
        {
            if (some && !tally.HasRms)
                _warnings.Add($"channel {channel}: no rms_dbfs; its levels are worked out from the squares of the frame peaks");
            _warnings.AddRange(tally.Warnings(channel, FrameS));
        }
    }

    private double? MedianStepS()
    {
        var half = _steps.Sum(count => (long)count) / 2.0;
        long seen = 0;
        for (var step = 1; step < _steps.Length; step++)
        {
            seen += _steps[step];
            if (seen > 0 && seen >= half)
                return step / StepsPerS;
        }

        return null;
    }

    private sealed class ChannelTally
    {
        private double _firstS = double.NaN;
        private double _lastS;
        private int _rows;
        private int _above;

        /// <summary>Frames loud enough to tell, with an RMS.</summary>
        public int Loud { get; private set; }

        /// <summary>Those of them whose peak lies hardly above the RMS.</summary>
        public int Tight { get; private set; }

        public bool HasRms { get; private set; }

        /// <summary>The highest peak in dBFS; minus infinity where none was read.</summary>
        public double Highest { get; private set; } = double.NegativeInfinity;

        public void Row(in MeterReading reading)
        {
            if (_rows++ == 0)
                _firstS = reading.TimeS;
            _lastS = reading.TimeS;
            HasRms |= !float.IsNaN(reading.RmsDbfs);
            if (reading.PeakDbfs > Highest)
                Highest = reading.PeakDbfs;
            if (reading.PeakDbfs > 0)
                _above++;
            if (reading.PeakDbfs is > -50 and < 0 && !float.IsNaN(reading.RmsDbfs))
            {
                Loud++;
                Tight += reading.PeakDbfs - reading.RmsDbfs < TightCrestDb ? 1 : 0;
            }
        }

        public IEnumerable<string> Warnings(int channel, double frameS)
        {
            var missing = (long)Math.Round((_lastS - _firstS) / frameS) + 1 - _rows;
            if (missing > 0)
                yield return $"channel {channel}: {missing} frames are missing";
            if (_above > 0)
                yield return $"channel {channel}: {_above} peaks above 0 dBFS; taken as overloads";
        }
    }
}
