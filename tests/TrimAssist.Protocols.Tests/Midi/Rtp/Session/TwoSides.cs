using TrimAssist.Protocols.Midi.Rtp.Session;

namespace TrimAssist.Protocols.Tests.Midi.Rtp.Session;

/// <summary>Two sides of a session joined in memory, on one clock that the test moves. Packets may be lost, doubled or changed on the way.</summary>
internal sealed class TwoSides
{
    private readonly Queue<(Side To, Side From, SessionPath Path, byte[] Packet)> _underWay = new();

    public TwoSides(bool bothInvite = false)
    {
        (Near, Far) = (new Side(this, 0x11111111, invites: true), new Side(this, 0x22222222, invites: bothInvite));
        (Near.Invited, Far.Invited) = (Far, Near);
    }

    public Side Near { get; }

    public Side Far { get; private set; }

    public double Now { get; private set; }

    /// <summary>Decides over each packet: which copies arrive.</summary>
    public Func<Side, SessionPath, byte[], IEnumerable<byte[]>> OnTheWay { get; set; } = static (_, _, packet) => [packet];

    public List<(SessionPath Path, byte[] Packet)> Seen { get; } = [];

    public void Pass(double seconds)
    {
        for (var left = seconds; left > 0; left -= 0.1)
        {
            Now += 0.1;
            Turn();
        }
    }

    public void Turn()
    {
        Near.Session.Tick(Now);
        Far.Session.Tick(Now);
        while (_underWay.TryDequeue(out var packet))
        {
            packet.To.CameFrom = packet.From;
            packet.To.Session.Take(packet.Path, packet.Packet, Now);
        }
    }

    /// <summary>The far side is switched off and on: it knows nothing of before.</summary>
    public void RestartFar()
    {
        Far = new Side(this, 0x33333333, invites: false) { Invited = Near };
        (Near.Invited, Near.Other) = (Far, Far);
    }

    private void Carry(Side from, Side? to, SessionPath path, ReadOnlySpan<byte> packet)
    {
        Seen.Add((path, packet.ToArray()));
        foreach (var copy in OnTheWay(from, path, packet.ToArray()))
        {
            if (to is not null)
                _underWay.Enqueue((to, from, path, copy));
        }
    }

    internal sealed class Side : ISessionWire, ISessionListener
    {
        private readonly TwoSides _all;

        public Side(TwoSides all, uint source, bool invites)
        {
            _all = all;
            Session = new RtpMidiSession(source, source + 1, $"side {source:X}", invites, this, this);
        }

        public RtpMidiSession Session { get; }

        public Side? Other { get; set; }

        public Side? Invited { get; set; }

        public Side? Remembered { get; private set; }

        public Side? CameFrom { get; set; }

        public int Opened { get; private set; }

        public List<string> Heard { get; } = [];

        public List<string> Restored { get; } = [];

        public int Lost { get; private set; }

        public bool Send(string messages) => Session.TrySend(Hex.Bytes(messages), _all.Now);

        void ISessionWire.Send(SessionPath path, ReadOnlySpan<byte> packet) => _all.Carry(this, Other, path, packet);

        void ISessionWire.Answer(SessionPath path, ReadOnlySpan<byte> packet) => _all.Carry(this, CameFrom, path, packet);

        void ISessionWire.Remember(SessionPath path) => Remembered = CameFrom;

        void ISessionWire.Adopt() => Other = Remembered;

        void ISessionWire.Return() => Other = Invited;

        void ISessionListener.OnOpened() => Opened++;

        void ISessionListener.OnMessage(ReadOnlySpan<byte> message) => Heard.Add(Hex.Print(message));

        void ISessionListener.OnRestored(ReadOnlySpan<byte> message) => Restored.Add(Hex.Print(message));

        void ISessionListener.OnLost(int packets) => Lost += packets;
    }
}
