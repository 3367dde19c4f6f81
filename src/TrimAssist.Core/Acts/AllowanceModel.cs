using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Acts;

/// <summary>What one show said about one player.</summary>
/// <param name="Player">Who, or what stands in for a name that nobody gave.</param>
/// <param name="Kind">The kind of source.</param>
/// <param name="AboveCheckDb">How far the show's peak ran above what the check predicted without any allowance.</param>
/// <param name="AtLeast">The show clipped: it ran at least that far above.</param>
/// <param name="At">When.</param>
public sealed record HeldBack(string Player, string Kind, double AboveCheckDb, bool AtLeast, DateTimeOffset At);

/// <summary>What to add for what a player holds back.</summary>
/// <param name="Db">The dB to add.</param>
/// <param name="SpreadDb">How far the next show may stray from it: standard deviation.</param>
/// <param name="Learned">Whether shows of this player or of this kind of source stand behind it.</param>
/// <param name="Basis">The figure and where it comes from, in words for the engineer.</param>
public sealed record Allowance(double Db, double SpreadDb, bool Learned, Saying Basis);

/// <summary>
/// Learns from shows what players hold back, by partial pooling: a player leans on players of the same kind, a kind on all
/// sources, all sources on common practice, each the less the more it has been heard. A tree of normal distributions, so the
/// answer is exact: docs/allowance.md has the formula.
/// </summary>
public sealed class AllowanceModel
{
    /// <summary>What common practice adds before anything was heard, dB.</summary>
    public const double UsualDb = 4;

    // Standard deviations in dB, chosen so that an unheard source strays by 3.6 dB, as without learning.
    private const double AllSources = 1.5;
    private const double BetweenKinds = 1.5;
    private const double BetweenPlayers = 2;
    private const double BetweenShows = 2.113;

    /// <summary>After so long a show counts half.</summary>
    private static readonly TimeSpan HalfLife = TimeSpan.FromDays(180);

    private readonly List<HeldBack> _shows;
    private readonly DateTimeOffset _now;
    private readonly Dictionary<(string Kind, string Player), Weight> _players;
    private readonly Dictionary<string, Weight> _kinds;
    private readonly Weight _all;

    /// <summary>Takes in everything that was heard.</summary>
    /// <param name="shows">What the shows said.</param>
    /// <param name="now">The present: by it the shows' ages count.</param>
    public AllowanceModel(IEnumerable<HeldBack> shows, DateTimeOffset now)
        : this(TellingOnly([.. shows], now), now)
    {
    }

    private AllowanceModel(List<HeldBack> shows, DateTimeOffset now)
    {
        (_shows, _now) = (shows, now);
        _players = shows.GroupBy(show => (show.Kind, show.Player)).ToDictionary(group => group.Key, group => Weight.Sum(group.Select(WeightOf)));
        _kinds = _players.GroupBy(player => player.Key.Kind, StringComparer.Ordinal).ToDictionary(
            group => group.Key, group => Weight.Sum(group.Select(player => player.Value.Through(BetweenPlayers))), StringComparer.Ordinal);
        _all = Weight.Of(UsualDb, AllSources * AllSources) + Weight.Sum(_kinds.Values.Select(kind => kind.Through(BetweenKinds)));
    }

    /// <summary>What to add for a player of a kind of source.</summary>
    /// <param name="player">Who; <see langword="null"/> where nobody said.</param>
    /// <param name="kind">The kind of source.</param>
    public Allowance For(string? player, string kind)
    {
        var own = player is null ? default : _players.GetValueOrDefault((kind, player));
        var ofKind = _kinds.GetValueOrDefault(kind);
        // What the rest of the tree says, each branch without what it heard from here.
        var others = _all - ofKind.Through(BetweenKinds);
        var kindsOthers = others.Through(BetweenKinds) + (ofKind - own.Through(BetweenPlayers));
        var answer = kindsOthers.Through(BetweenPlayers) + own;
        var spread = Math.Sqrt(answer.Variance + (BetweenShows * BetweenShows));
        return new Allowance(answer.Mean, spread, ofKind.Precision > 0, Basis(player, kind, answer.Mean));
    }

    private Saying Basis(string? player, string kind, double db)
    {
        var own = player is null ? 0 : _shows.Count(show => Same(show.Kind, kind) && Same(show.Player, player));
        var ofKind = _shows.Count(show => Same(show.Kind, kind));
        return (own, ofKind, _shows.Count) switch
        {
            (1, _, _) => AllowanceSayings.BasisPlayerOne(db),
            ( > 1, _, _) => AllowanceSayings.BasisPlayer(db, own),
            (_, 1, _) => AllowanceSayings.BasisKindOne(db, kind),
            (_, > 1, _) => AllowanceSayings.BasisKind(db, ofKind, kind),
            (_, _, 1) => AllowanceSayings.BasisOtherOne(db),
            (_, _, > 1) => AllowanceSayings.BasisOther(db, _shows.Count),
            _ => AllowanceSayings.BasisCommon(db),
        };
    }

    private static bool Same(string left, string right) => string.Equals(left, right, StringComparison.Ordinal);

    private Weight WeightOf(HeldBack show)
    {
        var age = _now - show.At;
        var fresh = Math.Pow(0.5, Math.Max(0, age / HalfLife));
        return Weight.Of(show.AboveCheckDb, BetweenShows * BetweenShows / fresh);
    }

    // A show that clipped is a lower bound: below what the others say anyway it tells nothing.
    private static List<HeldBack> TellingOnly(List<HeldBack> shows, DateTimeOffset now)
    {
        var exact = new AllowanceModel(shows.FindAll(show => !show.AtLeast), now);
        return shows.FindAll(show => !show.AtLeast || show.AboveCheckDb > exact.For(show.Player, show.Kind).Db);
    }

    /// <summary>A normal distribution by its precision, so that adding two is combining what they say; nothing at all has none.</summary>
    private readonly record struct Weight(double Precision, double Weighted)
    {
        public double Mean => Weighted / Precision;

        public double Variance => 1 / Precision;

        public static Weight Of(double mean, double variance) => new(1 / variance, mean / variance);

        public static Weight Sum(IEnumerable<Weight> weights) => weights.Aggregate(default(Weight), (sum, one) => sum + one);

        public static Weight operator +(Weight left, Weight right) => new(left.Precision + right.Precision, left.Weighted + right.Weighted);

        public static Weight operator -(Weight left, Weight right) => new(left.Precision - right.Precision, left.Weighted - right.Weighted);

        /// <summary>What it says one branch further, where things differ by so much.</summary>
        public Weight Through(double deviation) => Precision > 0 ? Of(Mean, Variance + (deviation * deviation)) : default;
    }
}
