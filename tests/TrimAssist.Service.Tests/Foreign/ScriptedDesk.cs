using System.Globalization;
using System.Net.Sockets;
using TrimAssist.Protocols.Osc;
using TrimAssist.TestKit.Desks;
using TrimAssist.TestKit.Network;

namespace TrimAssist.Service.Tests.Foreign;

/// <summary>A desk of another house: preamps, players, a dialect and a wire. Counts whatever was set on it.</summary>
internal sealed class ScriptedDesk : IForeignDesk
{
    private readonly Dialect _dialect;
    private readonly IDeskWire _wire;
    private readonly TimeProvider _clock;
    private readonly long _began;
    private Random? _frameLoss;
    private Random? _wordLoss;
    private double _share;

    public ScriptedDesk(Dialect dialect, TimeProvider clock)
    {
        (_dialect, _clock, _began) = (dialect, clock, clock.GetTimestamp());
        _wire = dialect.Framing is { } framing ? new StreamDesk(framing == "slip") : new ForeignDesk();
        _wire.Answer = Take;
    }

    public DeskState State { get; } = new();

    /// <summary>Trims that somebody set from outside.</summary>
    public List<(int Number, double Db)> Writes { get; } = [];

    public string Id => _dialect.Id;

    public double FrameS => _dialect.FrameS;

    public string ProfileText
    {
        get
        {
            var transport = _dialect.Framing is { } framing ? $"transport = \"tcp\"\nframing = \"{framing}\"" : "transport = \"udp\"";
            var listen = _dialect.ListensApart ? string.Create(CultureInfo.InvariantCulture, $"listen = \"127.0.0.1:{FreePort.Find(ProtocolType.Udp)}\"") : "";
            return $"""
                id = "{_dialect.Id}"
                name = "Scripted desk"
                inputs = {DeskState.Inputs}
                [connection]
                desk = "{_wire.EndPoint}"
                {transport}
                {listen}
                {_dialect.Profile}
                """;
        }
    }

    public void Attend() => _wire.Attend();

    public void TurnOff() => _wire.TurnOff();

    public void TurnOn() => _wire.TurnOn();

    /// <summary>From now on a share of the datagrams is lost, both ways; of a stream, which loses nothing, only meter frames.</summary>
    public void Lose(double share, int seed) => (_share, _frameLoss, _wordLoss) = (share, new Random(seed), _dialect.Framing is null ? new Random(seed + 1) : null);

    public void SendFrame()
    {
        if (!_wire.HasService)
            return;
        var messages = _dialect.Meters(new Levels(State, _clock.GetElapsedTime(_began).TotalSeconds));
        foreach (var packet in _dialect.Bundles ? [Bundle(messages)] : messages.Select(message => message.Encode()))
        {
            if (!IsLost(_frameLoss))
                _wire.Say(packet);
        }
    }

    /// <summary>Somebody turns a knob at the desk.</summary>
    public void TurnByHand(int number, double db)
    {
        State.SetTrim(number, db);
        if (_dialect.Pushes)
            Say(_dialect.Tell(number, db));
    }

    public void Dispose() => _wire.Dispose();

    private void Take(OscMessage message)
    {
        if (IsLost(_wordLoss))
            return;
        if (_dialect.Set(message) is var (number, db))
        {
            Writes.Add((number, db));
            State.SetTrim(number, db);
            if (_dialect.Pushes)
                Say(_dialect.Tell(number, db));
        }
        else if (_dialect.Ask(message) is { } asked)
        {
            Say(_dialect.Tell(asked, State.TrimOf(asked)));
        }
        else if (_dialect.Other(State, message) is { } answer)
        {
            Say(answer);
        }
        else if (_dialect.TellsAllOnEnrolling && message.Address.EndsWith("/join", StringComparison.Ordinal))
        {
            for (var input = 1; input <= DeskState.Inputs; input++)
                Say(_dialect.Tell(input, State.TrimOf(input)));
        }
    }

    private void Say(OscMessage message)
    {
        if (_wire.HasService && !IsLost(_wordLoss))
            _wire.Say(message.Encode());
    }

    private bool IsLost(Random? chance) => chance is not null && chance.NextDouble() < _share;

    private byte[] Bundle(IEnumerable<OscMessage> messages)
    {
        var bytes = new byte[4096];
        var writer = new OscWriter(bytes);
        writer.BeginBundle(OscTimeTag.From(_clock.GetUtcNow()));
        foreach (var message in messages)
            message.WriteTo(ref writer);
        writer.EndBundle();
        return writer.TryFinish(out var length) ? bytes[..length] : throw new InvalidOperationException($"{writer.Error}");
    }
}
