using TrimAssist.TestKit.Midi;

namespace TrimAssist.Service.Tests.Foreign;

/// <summary>A desk that speaks nothing but MIDI, over the network.</summary>
internal sealed class MidiScriptedDesk : IForeignDesk
{
    private readonly MidiDialect _dialect;
    private readonly RtpDesk _wire = new();
    private readonly TimeProvider _clock;
    private readonly long _began;
    private readonly Func<byte[], (int Number, double Db)?> _set;
    private Random? _loss;
    private double _share;

    public MidiScriptedDesk(MidiDialect dialect, TimeProvider clock)
    {
        (_dialect, _clock, _began, _set) = (dialect, clock, clock.GetTimestamp(), dialect.Set());
        (_wire.Answer, _wire.Greet, _wire.IsLost) = (Take, Greet, IsLost);
    }

    public string Id => _dialect.Id;

    public double FrameS => 0.05;

    public string ProfileText => $"""
        id = "{_dialect.Id}"
        name = "Scripted desk"
        inputs = {DeskState.Inputs}
        [connection]
        transport = "midi"
        port = "rtp:{_wire.EndPoint}"
        {_dialect.Profile}
        """;

    public DeskState State { get; } = new();

    public List<(int Number, double Db)> Writes { get; } = [];

    public void Attend() => _wire.Attend();

    public void SendFrame()
    {
        if (_wire.HasService)
            Say(_dialect.Meters(new Levels(State, _clock.GetElapsedTime(_began).TotalSeconds)));
    }

    public void TurnByHand(int number, double db)
    {
        State.SetTrim(number, db);
        if (_dialect.Pushes)
            Say(_dialect.Tell(number, db));
    }

    public void Lose(double share, int seed) => (_share, _loss) = (share, new Random(seed));

    public void TurnOff() => _wire.TurnOff();

    public void TurnOn() => _wire.TurnOn();

    public void Dispose() => _wire.Dispose();

    private void Take(byte[] message)
    {
        if (_set(message) is var (number, db))
        {
            Writes.Add((number, db));
            TurnByHand(number, db);
        }
        else if (_dialect.Ask(message) is { } asked)
        {
            Say(_dialect.Tell(asked, State.TrimOf(asked)));
        }
    }

    private void Greet()
    {
        for (var input = 1; _dialect.TellsAllAtFirst && input <= DeskState.Inputs; input++)
            Say(_dialect.Tell(input, State.TrimOf(input)));
    }

    private void Say(IEnumerable<byte[]> messages) => _wire.Say([.. messages], IsLost());

    private bool IsLost() => _loss is not null && _loss.NextDouble() < _share;
}
