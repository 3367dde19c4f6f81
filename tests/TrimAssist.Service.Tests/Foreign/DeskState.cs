namespace TrimAssist.Service.Tests.Foreign;

/// <summary>What a scripted desk is underneath, whatever it speaks: four inputs with preamps, and players before them.</summary>
internal sealed class DeskState
{
    public const int Inputs = 4;
    public const double FirstTrimDb = 30;
    private const double RestDbfs = -75;
    private const double PhraseS = 2;
    private readonly double[] _trimDb = new double[Inputs];

    // Peaks at the preamp's input in dB, so that the meter reads source plus trim. The last input has no player.
    private readonly double?[] _sourceDb = [-34, -58, -36, null];

    public DeskState() => ResetTrims(FirstTrimDb);

    /// <summary>Which socket feeds which input.</summary>
    public int[] Sockets { get; } = [1, 2, 3, 4];

    public double TrimOf(int input) => _trimDb[Sockets[input - 1] - 1];

    public void SetTrim(int socket, double db) => _trimDb[socket - 1] = db;

    public void ResetTrims(double db) => Array.Fill(_trimDb, db);

    /// <summary>The peak of an input in the frame that ends at a time.</summary>
    public double PeakDbfs(int input, double timeS)
    {
        var frame = (int)(timeS * 20);
        var rest = RestDbfs + (0.2 * (frame % 4));
        if (_sourceDb[input - 1] is not { } source || UnderPhraseDb(timeS % PhraseS) is not { } under)
            return rest;
        var peak = source + TrimOf(input) - under + (1.5 * Math.Sin((timeS * 7) + input)) + (0.4 * (frame % 3)) - 2;
        return Math.Clamp(peak, rest, 0);
    }

    public double RmsDbfs(int input, double timeS) => PeakDbfs(input, timeS) is var peak && peak > RestDbfs + 1 ? peak - 10 : peak - 6;

    // How far under its peak a phrase of a second and a half is, with half a second of rest.
    private static double? UnderPhraseDb(double atS) => atS switch
    {
        < 0.3 => 30 * (1 - (atS / 0.3)),
        < 1.2 => 0,
        < 1.5 => 30 * (atS - 1.2) / 0.3,
        _ => null,
    };
}
