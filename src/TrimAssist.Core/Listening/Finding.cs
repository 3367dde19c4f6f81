namespace TrimAssist.Core.Listening;

/// <summary>What a listener can find in an input's meters.</summary>
public enum FindingKind
{
    /// <summary>A plug pulled or pushed, phantom power switched: a bang from rest or over the music, gone at once.</summary>
    Pop,

    /// <summary>A bad cable or connector: short bangs in a row.</summary>
    Crackle,

    /// <summary>A jump up that stays: a pad released, a switch, a boost.</summary>
    StepUp,

    /// <summary>A jump down that stays: a pad engaged, a switch.</summary>
    StepDown,

    /// <summary>The converter clips.</summary>
    Overload,

    /// <summary>Peaks pile up below full scale: an earlier stage clips.</summary>
    FlatTop,

    /// <summary>Louder than the check predicted.</summary>
    Hot,

    /// <summary>The signal vanished while playing.</summary>
    Dropout,

    /// <summary>Feedback building up.</summary>
    Ring,

    /// <summary>The noise floor rose.</summary>
    NoiseRise,
}

/// <summary>Where a finding stands: a first word is out at once, later frames may correct it.</summary>
public enum FindingStage
{
    /// <summary>Seen for the first time.</summary>
    Raised,

    /// <summary>Kind or size corrected by later frames.</summary>
    Refined,

    /// <summary>Later frames showed that it was nothing.</summary>
    Withdrawn,

    /// <summary>The condition is over.</summary>
    Ended,
}

/// <summary>One thing that a listener found, or a later word about it.</summary>
/// <param name="Id">Number of the finding, unique within one listener; later words carry the same.</param>
/// <param name="Input">The desk input, from 1.</param>
/// <param name="Kind">What it is, as far as known now.</param>
/// <param name="Stage">First word, correction, withdrawal or end.</param>
/// <param name="TimeS">When it began, in the readings' time.</param>
/// <param name="SizeDb">How far it rose (or fell) in dB against what was there before.</param>
/// <param name="PeakDbfs">The highest peak it reached in dBFS; NaN where that says nothing.</param>
public readonly record struct Finding(
    int Id, int Input, FindingKind Kind, FindingStage Stage, double TimeS, float SizeDb, float PeakDbfs)
{
    private const double BangBeforeS = 0.2;
    private const double BangAfterS = 0.3;

    /// <summary>Whether it is a bang: no playing, to be left out of what the levels are worked out from.</summary>
    public bool IsBang => Kind is FindingKind.Pop or FindingKind.Crackle;

    /// <summary>From when on to leave a bang out, in the readings' time.</summary>
    public double BangFromS => TimeS - BangBeforeS;

    /// <summary>Until when to leave a bang out, in the readings' time.</summary>
    public double BangUntilS => TimeS + BangAfterS;
}
