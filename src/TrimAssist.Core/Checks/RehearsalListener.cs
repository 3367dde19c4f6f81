using TrimAssist.Core.Listening.Levels;

namespace TrimAssist.Core.Checks;

/// <summary>What a rehearsal room's listener wants done.</summary>
public enum RehearsalStep
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>Begin a check: somebody plays after silence.</summary>
    Begin,

    /// <summary>Begin a check: its time has come, whether somebody plays or not.</summary>
    BeginByTheClock,

    /// <summary>Finish the check that it began.</summary>
    Finish,
}

/// <summary>What a rehearsal room's listener must know besides what it hears.</summary>
/// <param name="Watching">Whether a show is watched: nothing begins then.</param>
/// <param name="OwnListens">Whether the check that it began still listens.</param>
/// <param name="OtherListens">Whether a check that somebody else began listens: nothing begins beside it.</param>
/// <param name="LastCheckAt">When the last check ended; <see langword="null"/> before the first.</param>
/// <param name="IsDue">Whether the time of a check has come since the last look.</param>
public readonly record struct RehearsalSight(bool Watching, bool OwnListens, bool OtherListens, TimeSpan? LastCheckAt, bool IsDue = false);

/// <summary>
/// Decides in a rehearsal room when a check begins and when it is over: it begins with the first sound after silence, or when its time has come, and
/// is over when everybody who plays has been heard enough or nobody plays any more. It confirms nothing and changes nothing.
/// </summary>
/// <remarks>One owner. Time is given; whole seconds are judged. Seconds in which nothing arrives are neither silence nor playing.</remarks>
/// <param name="inputs">How many inputs the desk has.</param>
public sealed class RehearsalListener(int inputs)
{
    /// <summary>So long nobody has played before a first sound counts as one.</summary>
    public const int LeastSilenceS = 60;

    /// <summary>A sound shorter than this is a bang, a cough or a dropped stick, and begins nothing.</summary>
    public const int FirstSoundS = 3;

    /// <summary>An input that has not sounded for so long plays no more.</summary>
    public const int StoppedAfterS = 20;

    /// <summary>Shorter than this a check does not end while somebody plays.</summary>
    public static readonly TimeSpan ShortestCheck = TimeSpan.FromSeconds(45);

    /// <summary>Longer than this no check waits for an input of which too little is heard.</summary>
    public static readonly TimeSpan LongestCheck = TimeSpan.FromMinutes(5);

    /// <summary>So long after a check no other begins by itself: the band reads and confirms.</summary>
    public static readonly TimeSpan BetweenChecks = TimeSpan.FromMinutes(2);

    private static readonly TimeSpan Second = TimeSpan.FromSeconds(1);

    private readonly Player[] _players = [.. Enumerable.Range(0, inputs).Select(static _ => new Player())];
    private TimeSpan? _secondBegan;
    private TimeSpan? _playedAt;
    private TimeSpan _checkBegan;
    private int _silentS;
    private bool _isDue;
    private bool _waits;

    /// <summary>How long nobody has played, or had not before the present playing, whether anything arrived meanwhile or not.</summary>
    public TimeSpan NobodyPlayed { get; private set; }

    /// <summary>Takes in one frame's level of an input. Allocates nothing.</summary>
    /// <param name="input">The desk input, from 1.</param>
    /// <param name="levelDbfs">Its peak, or its RMS where the desk sends no peak; NaN says nothing.</param>
    public void Hear(int input, double levelDbfs) => _players[input - 1].Levels.Hear(levelDbfs);

    /// <summary>The gain of an input has changed by so much.</summary>
    public void Refer(int input, double byDb) => _players[input - 1].Levels.Refer(byDb);

    /// <summary>What an input's rest was says nothing any more, as after its meter came back from a mute.</summary>
    public void Forget(int input) => _players[input - 1].Levels.Forget();

    /// <summary>Lets time pass, and says what is to be done now.</summary>
    /// <param name="now">The time.</param>
    /// <param name="sight">How things stand.</param>
    /// <param name="activeS">Seconds of playing that the check has heard of an input.</param>
    public RehearsalStep Pass(TimeSpan now, RehearsalSight sight, Func<int, double> activeS)
    {
        _isDue |= sight.IsDue;
        _secondBegan ??= now;
        if (now - _secondBegan < Second)
            return RehearsalStep.None;
        _secondBegan = now;
        _playedAt ??= now;
        var silentBefore = _silentS;
        EndSecond(learn: !sight.OwnListens && !sight.OtherListens);
        NobodyPlayed = now - _playedAt.Value;
        if (IsPlayed)
            _playedAt = now;
        var isDue = _isDue;
        _isDue = false;
        if (sight.OwnListens)
            return IsOver(now, activeS) ? RehearsalStep.Finish : RehearsalStep.None;
        var begins = _silentS == 0 && silentBefore >= LeastSilenceS && !(now - sight.LastCheckAt < BetweenChecks);
        if (sight.Watching || sight.OtherListens || !(isDue || begins))
            return RehearsalStep.None;
        _checkBegan = now;
        _waits = isDue;
        return isDue ? RehearsalStep.BeginByTheClock : RehearsalStep.Begin;
    }

    private bool IsPlayed => Array.Exists(_players, static player => player.IsPlaying);

    private void EndSecond(bool learn)
    {
        var (heard, played) = (false, false);
        foreach (var player in _players)
        {
            if (player.Levels.End(learn) is not { } sounded)
                continue;
            heard = true;
            player.Pass(sounded);
            played |= sounded && player.IsPlaying;
        }

        if (played)
            _silentS = 0;
        else if (heard)
            _silentS++;
    }

    private bool IsOver(TimeSpan now, Func<int, double> activeS)
    {
        // Who comes late to the time that was set is waited for.
        var isPlayed = IsPlayed;
        _waits &= !isPlayed;
        if (now - _checkBegan >= LongestCheck || (!isPlayed && !_waits))
            return true;
        if (_waits || now - _checkBegan < ShortestCheck)
            return false;
        for (var input = 1; input <= _players.Length; input++)
        {
            if (_players[input - 1].IsPlaying && activeS(input) < Check.EnoughS)
                return false;
        }

        return true;
    }

    private sealed class Player
    {
        private int _soundsS;
        private int _restsS;

        public SecondLevels Levels { get; } = new();

        public bool IsPlaying { get; private set; }

        public void Pass(bool sounded)
        {
            (_soundsS, _restsS) = sounded ? (_soundsS + 1, 0) : (0, _restsS + 1);
            IsPlaying = _soundsS >= FirstSoundS || (IsPlaying && _restsS < StoppedAfterS);
        }
    }
}
