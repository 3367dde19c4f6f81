namespace TrimAssist.DemoDesk.Band;

/// <summary>
/// One player as a level over time: phrases and rests, notes of differing loudness that decay, softer in the check than in
/// the show, with a solo now and then.
/// </summary>
internal sealed class Player(SourceKind kind, double loudestDbu, double beatS, Chance chance)
{
    private readonly double _holdBackDb = Math.Max(0, kind.HoldBackDb + chance.Normal(1.5));
    private double _now = SourceFrame.SilentDbu;
    private double _untilNote;
    private double _phraseEnds;
    private double _restEnds;
    private double _soloEnds;
    private double _time;

    /// <summary>The kind of source.</summary>
    public SourceKind Kind => kind;

    /// <summary>How much this player holds back in the check, dB.</summary>
    public double HoldBackDb => _holdBackDb;

    /// <summary>The next frame.</summary>
    /// <param name="frameS">Its length.</param>
    /// <param name="playing">Whether the band plays at all.</param>
    /// <param name="inShow">Whether it is the show: nobody holds back.</param>
    public SourceFrame Next(double frameS, bool playing, bool inShow)
    {
        _time += frameS;
        _now = Math.Max(SourceFrame.SilentDbu, _now - (kind.DecayDbPerS * frameS));
        if (playing && InPhrase(inShow))
        {
            _untilNote -= frameS;
            if (_untilNote <= 0)
                Strike(inShow);
        }
        else if (!kind.Struck)
        {
            // A sustained note is damped when the phrase ends.
            _now = Math.Max(SourceFrame.SilentDbu, _now - (80 * frameS));
        }

        var crest = kind.CrestDb + chance.Normal(0.8);
        return new(_now, _now - Math.Max(2, crest));
    }

    private void Strike(bool inShow)
    {
        var beats = kind.BeatsPerHit * (chance.Unit() < 0.2 ? 0.5 : 1);
        _untilNote = Math.Max(beatS * beats, 0.05);
        var level = loudestDbu - 5 + chance.Normal(kind.SpreadDb) - (inShow ? 0 : _holdBackDb) + (_time < _soloEnds ? 3 : 0);
        _now = Math.Max(_now, Math.Min(level, loudestDbu + 2));
    }

    private bool InPhrase(bool inShow)
    {
        if (_time < _restEnds)
            return false;
        if (_time < _phraseEnds)
            return true;
        var rest = kind.Struck ? chance.Between(0.1, 1) : chance.Between(0.4, 2.5);
        _restEnds = _time + rest;
        _phraseEnds = _restEnds + chance.Between(4, 11);
        if (inShow && chance.Unit() < 0.25)
            _soloEnds = _phraseEnds;
        _untilNote = 0;
        return false;
    }
}
