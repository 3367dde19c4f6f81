using TrimAssist.Core.Meters;

namespace TrimAssist.Core.Listening.Jumps;

/// <summary>Watches every input of a desk for bangs and overloads, frame by frame. Allocates nothing after construction.</summary>
public sealed class StageListener
{
    /// <summary>A reading at or above full scale less this is an overload.</summary>
    private const float FullScaleSlackDb = 0.1f;

    /// <summary>An overload is over when none came for this long.</summary>
    private const double OverloadEndsAfterS = 1;

    /// <summary>After a change of gain at the desk nothing is found for this long: the change itself is no event.</summary>
    private const double ChangeGuardS = 0.25;

    private readonly Ear[] _ears;
    private readonly double _frameS;
    private int _nextId;

    /// <summary>Makes listeners for inputs 1 to <paramref name="inputs"/>.</summary>
    public StageListener(int inputs, MeterTraits traits)
    {
        _frameS = traits.FrameS;
        _ears = [.. Enumerable.Range(0, inputs).Select(_ => new Ear(_frameS))];
    }

    /// <summary>Hears one reading. Readings without a peak, or out of order, say nothing.</summary>
    public void Observe(in MeterReading reading, FindingRing found)
    {
        var ear = _ears[reading.Input - 1];
        if (float.IsNaN(reading.PeakDbfs) || !(reading.TimeS > ear.LastS))
            return;
        ear.LastS = reading.TimeS;
        Overload(ear, reading, found);
        var word = ear.Pops.Observe(reading);
        if (reading.TimeS < ear.QuietUntilS)
            return;
        if (word == PopWord.Raised)
        {
            ear.Pop = new Finding(++_nextId, reading.Input, FindingKind.Pop, FindingStage.Raised, reading.TimeS, (float)ear.Pops.SizeDb, reading.PeakDbfs);
            found.Add(ear.Pop);
        }
        else if (word == PopWord.Withdrawn && ear.Pop.Id != 0)
        {
            found.Add(ear.Pop with { Stage = FindingStage.Withdrawn });
        }
    }

    /// <summary>Takes note that the desk's gain for an input changed: the jump that follows is no event.</summary>
    /// <param name="input">The input.</param>
    /// <param name="timeS">When, in the readings' time.</param>
    /// <param name="fullScaleDbfs">Full scale at the tap from now on.</param>
    public void SettingsChanged(int input, double timeS, double fullScaleDbfs)
    {
        var old = _ears[input - 1];
        _ears[input - 1] = new Ear(_frameS) { LastS = old.LastS, QuietUntilS = timeS + ChangeGuardS, FullScaleDbfs = (float)fullScaleDbfs, Overload = old.Overload };
    }

    private void Overload(Ear ear, in MeterReading reading, FindingRing found)
    {
        if (reading.PeakDbfs >= ear.FullScaleDbfs - FullScaleSlackDb)
        {
            ear.OverloadSeenS = reading.TimeS;
            if (ear.Overload.Id != 0)
                return;
            ear.Overload = new Finding(
                ++_nextId, reading.Input, FindingKind.Overload, FindingStage.Raised, reading.TimeS, reading.PeakDbfs - ear.FullScaleDbfs, reading.PeakDbfs);
            found.Add(ear.Overload);
        }
        else if (ear.Overload.Id != 0 && reading.TimeS - ear.OverloadSeenS > OverloadEndsAfterS)
        {
            found.Add(ear.Overload with { Stage = FindingStage.Ended });
            ear.Overload = default;
        }
    }

    private sealed class Ear(double frameS)
    {
        public PopWatch Pops { get; } = new(frameS);

        public double LastS { get; set; } = double.NegativeInfinity;

        public double QuietUntilS { get; init; } = double.NegativeInfinity;

        public float FullScaleDbfs { get; init; }

        public Finding Pop { get; set; }

        public Finding Overload { get; set; }

        public double OverloadSeenS { get; set; }
    }
}
