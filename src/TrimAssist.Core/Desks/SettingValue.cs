using TrimAssist.Core.Units;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Desks;

/// <summary>One value of a desk control: a gain in dB or a switch.</summary>
public readonly record struct SettingValue
{
    private SettingValue(double? db, bool? on) => (Db, On) = (db, on);

    /// <summary>The gain in dB; <see langword="null"/> for a switch.</summary>
    public double? Db { get; }

    /// <summary>The switch; <see langword="null"/> for a gain.</summary>
    public bool? On { get; }

    /// <summary>A gain.</summary>
    public static SettingValue Gain(double db) => new(db, null);

    /// <summary>A gain.</summary>
    public static SettingValue Gain(Decibels gain) => new(gain.Value, null);

    /// <summary>A switch.</summary>
    public static SettingValue Switch(bool on) => new(null, on);

    /// <summary>Whether both say the same: gains within <paramref name="toleranceDb"/>, switches exactly.</summary>
    public bool Matches(SettingValue other, double toleranceDb) =>
        (Db, other.Db) is ({ } mine, { } theirs) ? Math.Abs(mine - theirs) <= toleranceDb : On is not null && On == other.On;

    /// <summary>The value in words.</summary>
    public Saying Said => Db is { } db ? ValueSayings.ValueGain(db) : On is true ? ValueSayings.ValueOn : ValueSayings.ValueOff;

    /// <inheritdoc/>
    public override string ToString() => Said;
}
