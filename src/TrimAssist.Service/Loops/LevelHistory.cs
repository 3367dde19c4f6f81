using TrimAssist.Core.Desks;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Proposals;

namespace TrimAssist.Service.Loops;

/// <summary>One column of a level's history.</summary>
/// <param name="AtS">Where it begins, in seconds since the service began.</param>
/// <param name="PeakDbfs">Its highest peak; <see langword="null"/> where nothing was heard.</param>
/// <param name="RmsDbfs">Its highest frame RMS; <see langword="null"/> where nothing was heard or the desk sends none.</param>
public readonly record struct LevelColumn(double AtS, double? PeakDbfs, double? RmsDbfs);

/// <summary>A setting that moved, by whoever moved it.</summary>
/// <param name="AtS">When, in seconds since the service began.</param>
/// <param name="Kind">Which: trim, pad, mute or unmute.</param>
/// <param name="From">The value before.</param>
/// <param name="To">The value after.</param>
public sealed record SettingMark(double AtS, ProposalKind Kind, SettingValue From, SettingValue To);

/// <summary>
/// Each input's level, second by second, over the last two hours, and when its trim, pad and mute moved. One owner: the desk's
/// loop. Keeping a reading allocates nothing, and what was never heard takes no memory: a level is kept as hundredths of a
/// decibel with zero for nothing, so pages that are not yet written are not yet had.
/// </summary>
/// <param name="inputs">Number of inputs.</param>
public sealed class LevelHistory(int inputs)
{
    /// <summary>How many seconds are kept.</summary>
    public const int Seconds = 2 * 60 * 60;

    /// <summary>How many marks are kept for each input.</summary>
    public const int Marks = 200;

    private const int StepsPerDb = 100;
    private const ushort FullScale = 40_001; // how 0 dBFS is kept
    private const ushort Nothing = 0;

    private readonly ushort[] _peak = new ushort[inputs * Seconds];
    private readonly ushort[] _rms = new ushort[inputs * Seconds];
    private readonly int[] _last = [.. Enumerable.Repeat(-1, inputs)];
    private readonly Queue<SettingMark>[] _marks = [.. Enumerable.Range(0, inputs).Select(_ => new Queue<SettingMark>())];

    /// <summary>Keeps a reading that arrived at a moment, in seconds since the service began.</summary>
    public void Keep(in MeterReading reading, double atS)
    {
        var (input, second) = (reading.Input - 1, (int)atS);
        var begin = input * Seconds;
        for (var missed = Math.Max(_last[input] + 1, second - Seconds + 1); missed <= second; missed++)
            Forget(begin + (missed % Seconds));
        _last[input] = Math.Max(_last[input], second);
        var slot = begin + (second % Seconds);
        Raise(ref _peak[slot], Packed(reading.PeakDbfs));
        Raise(ref _rms[slot], Packed(reading.RmsDbfs));
    }

    /// <summary>Keeps what moved between two readings of an input's settings; a first reading moves nothing.</summary>
    public void Keep(InputSettings before, InputSettings now, double atS)
    {
        if (before.Trim is { } from && now.Trim is { } to && from != to)
            Mark(now.Input, new(atS, ProposalKind.Trim, SettingValue.Gain(from.Value), SettingValue.Gain(to.Value)));
        if (before.PadOn is { } wasIn && now.PadOn is { } isIn && wasIn != isIn)
            Mark(now.Input, new(atS, ProposalKind.Pad, SettingValue.Switch(wasIn), SettingValue.Switch(isIn)));
        if (before.Muted is { } wasMuted && now.Muted is { } isMuted && wasMuted != isMuted)
            Mark(now.Input, new(atS, isMuted ? ProposalKind.Mute : ProposalKind.Unmute, SettingValue.Switch(wasMuted), SettingValue.Switch(isMuted)));
    }

    /// <summary>The history of an input between two moments, in at most so many columns of whole seconds.</summary>
    public IReadOnlyList<LevelColumn> Read(int input, double fromS, double toS, int columns)
    {
        var (first, last) = (Math.Max(0, (int)fromS), (int)toS);
        var width = Math.Max(1, (int)Math.Ceiling((last - first + 1) / (double)columns));
        var all = new List<LevelColumn>(columns);
        for (var at = first; at <= last; at += width)
        {
            var (peak, rms) = (Nothing, Nothing);
            for (var second = at; second < at + width; second++)
            {
                if (second > _last[input - 1] || second <= _last[input - 1] - Seconds)
                    continue;
                var slot = ((input - 1) * Seconds) + (second % Seconds);
                (peak, rms) = (Math.Max(peak, _peak[slot]), Math.Max(rms, _rms[slot]));
            }

            all.Add(new(at, Known(peak), Known(rms)));
        }

        return all;
    }

    /// <summary>What moved on an input between two moments, oldest first.</summary>
    public IReadOnlyList<SettingMark> Moved(int input, double fromS, double toS) => [.. _marks[input - 1].Where(mark => mark.AtS >= fromS && mark.AtS <= toS)];

    private void Mark(int input, SettingMark mark)
    {
        var marks = _marks[input - 1];
        if (marks.Count >= Marks)
            marks.Dequeue();
        marks.Enqueue(mark);
    }

    private void Forget(int slot)
    {
        if ((_peak[slot] | _rms[slot]) != Nothing)
            _peak[slot] = _rms[slot] = Nothing;
    }

    // Writes only what changes: a page that is only read is not had.
    private static void Raise(ref ushort kept, ushort level)
    {
        if (level > kept)
            kept = level;
    }

    private static ushort Packed(float dbfs) =>
        float.IsFinite(dbfs) ? (ushort)Math.Clamp(FullScale + MathF.Round(dbfs * StepsPerDb), Nothing + 1, ushort.MaxValue) : Nothing;

    private static double? Known(ushort packed) => packed == Nothing ? null : (packed - FullScale) / (double)StepsPerDb;
}
