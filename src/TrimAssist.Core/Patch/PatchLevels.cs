using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Patch;

/// <summary>What an input sounded like, before a patch or after it.</summary>
/// <param name="PeakDbfs">Highest peak of the playing in dBFS; <see langword="null"/> where nothing was played.</param>
/// <param name="NoiseFloorDbfs">Noise floor in dBFS; <see langword="null"/> where none was heard.</param>
/// <param name="TrimDb">The trim at which this was heard, in dB; <see langword="null"/> where the desk has not said.</param>
public sealed record PatchLevels(double? PeakDbfs, double? NoiseFloorDbfs, double? TrimDb)
{
    /// <summary>From this on a change is worth a word: a pad, a DI switch or another instrument (common practice).</summary>
    public const double WorthSayingDb = 6;

    /// <summary>From this on a hotter source is brought down before it is opened (common practice).</summary>
    public const double HotterDb = 3;

    /// <summary>How much hotter the input plays than <paramref name="before"/> at the same trim, in dB; <see langword="null"/> where either is not known.</summary>
    public double? PeakOver(PatchLevels? before) => (PeakDbfs - before?.PeakDbfs) - TrimSince(before);

    /// <summary>How much the noise floor rose since <paramref name="before"/> at the same trim, in dB; <see langword="null"/> where either is not known.</summary>
    public double? NoiseOver(PatchLevels? before) => (NoiseFloorDbfs - before?.NoiseFloorDbfs) - TrimSince(before);

    /// <summary>What the engineer should know before opening the input.</summary>
    public Saying AdviceAfter(PatchLevels? before)
    {
        Saying? words = null;
        if (NoiseOver(before) is { } noise && Math.Abs(noise) >= WorthSayingDb)
            words = noise > 0 ? MuteSayings.PatchNoiseUp(noise) : MuteSayings.PatchNoiseDown(-noise);
        if (PeakOver(before) is { } level && Math.Abs(level) >= WorthSayingDb)
            words = Saying.Both(words, level > 0 ? MuteSayings.PatchLevelUp(level) : MuteSayings.PatchLevelDown(-level));
        return words ?? (NoiseOver(before) is null && PeakOver(before) is null ? MuteSayings.PatchNotCompared : MuteSayings.PatchAsBefore);
    }

    // A trim that nobody knows cannot be allowed for: it is taken as unmoved.
    private double TrimSince(PatchLevels? before) => (TrimDb - before?.TrimDb) ?? 0;
}
