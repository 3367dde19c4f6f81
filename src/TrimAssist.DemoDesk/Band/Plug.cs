namespace TrimAssist.DemoDesk.Band;

/// <summary>
/// What a line carries around the moment when its plug is pulled or pushed: a broadband click of about a millisecond, often a
/// second one as the contacts let go, the slow thump of the coupling capacitors, and hum while the tip is in the air or under a
/// hand. Figures are common practice.
/// </summary>
internal sealed class Plug
{
    private const double HumDbu = -52;
    private const double HumCrestDb = 2;

    private readonly double _clickDbu;
    private readonly double _clickDecayS;
    private readonly double _thumpDecayS;
    private readonly double _thumpUnderDb;
    private readonly double _secondAtS;
    private readonly double _secondUnderDb;
    private readonly double _humS;

    /// <summary>Makes one plug's moment, the same for the same chance.</summary>
    /// <param name="clickDbu">How loud the click is, at the plug.</param>
    /// <param name="chance">Where it differs from other plugs.</param>
    public Plug(double clickDbu, Chance chance)
    {
        _clickDbu = clickDbu;
        _clickDecayS = chance.Between(0.0005, 0.0015);
        _thumpDecayS = chance.Between(0.01, 0.02);
        _thumpUnderDb = chance.Between(15, 22);
        _secondAtS = chance.Unit() < 0.4 ? chance.Between(0.03, 0.12) : double.PositiveInfinity;
        _secondUnderDb = chance.Between(6, 15);
        _humS = chance.Between(0.15, 0.5);
    }

    /// <summary>What the line carries a time after the click, on a frame of some length.</summary>
    public SourceFrame At(double sinceS, double frameS)
    {
        var thump = _clickDbu - _thumpUnderDb - (20 * Math.Max(0, sinceS) / _thumpDecayS / Math.Log(10));
        var hum = sinceS < _humS ? HumDbu : SourceFrame.SilentDbu;
        var bang = Within(0) ? new Bang(_clickDbu, _clickDecayS)
            : Within(_secondAtS) ? new Bang(_clickDbu - _secondUnderDb, _clickDecayS)
            : thump > SourceFrame.SilentDbu ? new Bang(thump, _thumpDecayS)
            : (Bang?)null;
        return new SourceFrame(hum, hum - HumCrestDb) { Bang = bang };

        // The click falls into the first frame that ends after it.
        bool Within(double atS) => sinceS - frameS < atS && atS <= sinceS;
    }
}
