using CsCheck;
using TrimAssist.Protocols.Midi.Rtp.Session;

namespace TrimAssist.Protocols.Tests.Midi.Rtp.Session;

/// <summary>A session from invitation to end, and what may go wrong between.</summary>
public class Sessions
{
    private readonly TwoSides _all = new();

    [Fact]
    public void The_invited_side_accepts_and_midi_goes_both_ways()
    {
        _all.Turn();
        Assert.True(_all.Near.Session.IsOpen && _all.Far.Session.IsOpen);
        Assert.Equal((1, 1), (_all.Near.Opened, _all.Far.Opened));
        Assert.True(_all.Near.Send("B0 07 64 90 3C 40 F0 7D 01 02 F7"));
        Assert.True(_all.Far.Send("B1 07 01"));
        _all.Turn();
        Assert.Equal(["B0 07 64", "90 3C 40", "F0 7D 01 02 F7"], _all.Far.Heard);
        Assert.Equal(["B1 07 01"], _all.Near.Heard);
        Assert.Equal((0L, 0L), (_all.Near.Session.Inbox.Lost, _all.Far.Session.Inbox.Lost));
    }

    [Fact]
    public void Only_whole_messages_with_their_own_status_leave()
    {
        Assert.False(_all.Near.Send("B0 07 64"), "no session yet");
        _all.Turn();
        foreach (var broken in new[] { "B0 07", "B0 07 64 08 01", "07 64", "F0 7D 01", "F7", "" })
            Assert.False(_all.Near.Send(broken), broken);
        Assert.True(_all.Near.Send("B0 07 64"));
    }

    [Theory]
    [InlineData(SessionPath.Control)]
    [InlineData(SessionPath.Data)]
    public void An_invitation_that_is_lost_is_sent_again(SessionPath lost)
    {
        var left = 2;
        _all.OnTheWay = (_, path, packet) => path == lost && left-- > 0 ? [] : [packet];
        _all.Pass(4);
        Assert.True(_all.Near.Session.IsOpen && _all.Far.Session.IsOpen);
    }

    [Fact]
    public void Both_may_invite_at_once_and_one_session_comes_of_it()
    {
        var all = new TwoSides(bothInvite: true);
        all.Pass(2);
        Assert.True(all.Near.Session.IsOpen && all.Far.Session.IsOpen);
        all.Near.Send("B0 07 01");
        all.Far.Send("B0 07 02");
        all.Turn();
        Assert.Equal(["B0 07 01"], all.Far.Heard);
        Assert.Equal(["B0 07 02"], all.Near.Heard);
    }

    [Fact]
    public void The_clocks_are_measured_in_three_words()
    {
        _all.Pass(1);
        var words = _all.Seen.Where(one => SessionPacket.TryRead(one.Packet, out var read) && read.Command == SessionCommand.Clock)
            .Select(one => SessionPacket.TryRead(one.Packet, out var read) ? (one.Path, read.Count) : default).Take(3);
        Assert.Equal([(SessionPath.Data, (byte)0), (SessionPath.Data, 1), (SessionPath.Data, 2)], words);
    }

    [Fact]
    public void A_far_side_that_was_switched_off_and_on_is_invited_again()
    {
        _all.Pass(2);
        _all.RestartFar();
        _all.Pass(RtpMidiSession.SilentAfterS + 2);
        Assert.Equal((2, 1), (_all.Near.Opened, _all.Far.Opened));
        Assert.True(_all.Near.Send("B0 07 64"));
        _all.Turn();
        Assert.Equal(["B0 07 64"], _all.Far.Heard);
    }

    [Fact]
    public void A_near_side_that_was_switched_off_and_on_is_taken_in_again_at_once()
    {
        _all.Pass(2);
        var far = _all.Far;
        Assert.True(far.Session.Take(SessionPath.Control, Invitation(0x11111111, 9), _all.Now));
        Assert.Equal(1, far.Opened);
        Assert.True(far.Session.Take(SessionPath.Data, Invitation(0x11111111, 9), _all.Now));
        Assert.True(far.Session.IsOpen);
        Assert.Equal(2, far.Opened);
    }

    [Fact]
    public void A_stranger_is_refused_while_the_partner_speaks()
    {
        _all.Pass(2);
        _all.Seen.Clear();
        Assert.True(_all.Far.Session.Take(SessionPath.Control, Invitation(0x77, 9), _all.Now));
        Assert.True(SessionPacket.TryRead(Assert.Single(_all.Seen).Packet, out var answer));
        Assert.Equal(SessionCommand.Refused, answer.Command);
        Assert.True(_all.Far.Session.IsOpen);
    }

    [Fact]
    public void A_refused_side_says_so_and_knocks_again()
    {
        _all.OnTheWay = (from, path, packet) => from == _all.Near && SessionPacket.TryRead(packet, out var word) && word.Command == SessionCommand.Invitation ? [] : [packet];
        _all.Turn();
        Assert.True(SessionPacket.TryRead(_all.Seen[0].Packet, out var invitation));
        Span<byte> no = stackalloc byte[SessionPacket.MaxSize];
        var length = new SessionPacket(SessionCommand.Refused, 1, invitation.Token).Write(no, "");
        Assert.True(_all.Near.Session.Take(SessionPath.Control, no[..length], _all.Now));
        Assert.True(_all.Near.Session.WasRefused);
        _all.OnTheWay = static (_, _, packet) => [packet];
        _all.Pass(2);
        Assert.True(_all.Near.Session.IsOpen);
        Assert.False(_all.Near.Session.WasRefused);
    }

    [Fact]
    public void The_end_is_said_and_heard()
    {
        _all.Pass(2);
        _all.Near.Session.End();
        _all.OnTheWay = static (_, _, _) => [];
        _all.Turn();
        Assert.False(_all.Far.Session.IsOpen);
        Assert.False(_all.Far.Send("B0 07 64"));
    }

    [Fact]
    public void What_came_is_acknowledged_once()
    {
        _all.Turn();
        _all.Near.Send("B0 07 64");
        _all.Pass(5);
        Assert.Single(_all.Seen, one => one.Path == SessionPath.Control && SessionPacket.TryRead(one.Packet, out var word) && word.Command == SessionCommand.Feedback);
    }

    [Fact]
    public void Packets_of_others_and_of_earlier_sessions_are_not_heard()
    {
        _all.Turn();
        Assert.False(_all.Near.Session.Take(SessionPath.Data, Hex.Bytes("80 61 00 01 00 00 00 00 0A 0B 0C 0D 03 B0 07 64"), _all.Now));
        Assert.Empty(_all.Near.Heard);
    }

    [Fact]
    public void No_bytes_throw_or_end_a_session()
    {
        _all.Pass(2);
        Gen.Byte.Array[0, 64].SelectMany(bytes => Gen.Bool.Select(data => (bytes, data))).Sample(
            one =>
            {
                _all.Far.Session.Take(one.data ? SessionPath.Data : SessionPath.Control, one.bytes, _all.Now);
                return _all.Far.Session.IsOpen;
            },
            threads: 1);
    }

    private static byte[] Invitation(uint source, uint token)
    {
        var bytes = new byte[SessionPacket.MaxSize];
        return bytes[..new SessionPacket(SessionCommand.Invitation, source, token).Write(bytes, "stranger")];
    }
}
