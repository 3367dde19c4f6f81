using CsCheck;
using TrimAssist.Protocols.Midi.Rtp;
using TrimAssist.Protocols.Midi.Rtp.Session;

namespace TrimAssist.Protocols.Tests.Midi.Rtp.Session;

/// <summary>RFC 6295, section 4: what is lost, doubled or late leaves nothing wrong behind.</summary>
public class Losses : ISessionListener
{
    private readonly List<string> _heard = [];
    private readonly List<string> _restored = [];
    private readonly RtpMidiInbox _inbox;
    private int _lost;

    public Losses() => _inbox = new RtpMidiInbox(this);

    [Fact] // R16: a volume and a note that were lost are restored from the next packet's journal, before its own commands
    public void Controllers_and_notes_of_lost_packets_are_restored()
    {
        Take(1, "03 B1 07 20");
        Take(3, "43 90 3D 64 20 00 01 08 06 40 00 07 64");
        Assert.Equal(["B1 07 64"], _restored);
        Assert.Equal(["B1 07 20", "90 3D 64"], _heard);
        Assert.Equal((1, 1L), (_lost, _inbox.Lost));

        Take(5, "40 20 00 03 00 09 08 01 78 3C E4 80 01");
        Assert.Equal(["B1 07 64", "90 3C 64", "80 38 00", "80 47 00"], _restored);
    }

    [Theory] // one half alone would be heard as a value that never was
    [InlineData("07 64", "B1 07 64", "B1 27 05")]
    [InlineData("27 06", "B1 07 20", "B1 27 06")]
    public void The_halves_of_a_pair_are_restored_together_the_upper_one_first(string log, string upper, string lower)
    {
        Take(1, "07 B1 07 20 00 B1 27 05");
        Take(3, $"43 90 3D 64 20 00 01 08 06 40 00 {log}");
        Assert.Equal([upper, lower], _restored);

        Take(5, $"43 90 3D 64 20 00 01 08 06 40 00 {log}");
        Assert.Equal(2, _restored.Count);
    }

    [Fact]
    public void What_stands_already_is_not_said_again()
    {
        Take(1, "03 B1 07 64");
        Take(3, "43 90 3D 64 20 00 01 08 06 40 00 07 64");
        Assert.Empty(_restored);
    }

    [Fact]
    public void A_journal_is_passed_over_where_nothing_was_lost()
    {
        Take(1, "03 B1 07 20");
        Take(2, "43 90 3D 64 20 00 01 08 06 40 00 07 64");
        Assert.Empty(_restored);
    }

    [Fact]
    public void Halves_of_parameters_are_not_restored_out_of_their_order()
    {
        Take(1, "03 B0 07 20");
        Take(3, "43 90 3D 64 20 00 01 00 0A 40 02 06 10 26 01 63 02");
        Assert.Empty(_restored);
    }

    [Fact]
    public void A_note_that_ended_unheard_is_ended()
    {
        Take(1, "03 90 3C 64");
        Take(3, "40 20 00 01 00 06 08 00 77 08");
        Assert.Equal(["80 3C 00"], _restored);
    }

    [Fact]
    public void Doubled_and_late_packets_are_heard_once()
    {
        Take(1, "03 B0 07 01");
        Take(3, "03 B0 07 03");
        Take(3, "03 B0 07 03");
        Take(2, "03 B0 07 02");
        Assert.Equal(["B0 07 01", "B0 07 03"], _heard);
        Assert.Equal(2, _inbox.Late);
    }

    [Fact]
    public void Sequence_numbers_wrap()
    {
        Take(65535, "03 B0 07 01");
        Take(0, "03 B0 07 02");
        Assert.Equal(2, _heard.Count);
        Assert.Equal(0, _inbox.Lost);
    }

    [Fact]
    public void A_half_system_exclusive_is_given_up_where_a_part_is_lost()
    {
        Take(1, "04 F0 7D 01 F0");
        Take(3, "04 F7 02 03 F7");
        Assert.Empty(_heard);
    }

    [Fact]
    public void A_broken_packet_is_counted_and_the_next_is_heard()
    {
        Take(1, "0F B0 07");
        Take(1, "03 B0 07 05");
        Assert.Equal(["B0 07 05"], _heard);
        Assert.Equal((1L, RtpMidiError.Truncated), (_inbox.Refused, _inbox.LastError));
    }

    [Fact] // Whatever is lost, the last value that the receiver holds is the sender's, as soon as one packet with a whole journal comes.
    public void No_lasting_artefact_remains()
        => Gen.Select(Gen.Int[0, 3], Gen.Int[0, 127], Gen.Bool).Array[1, 40].Sample(sent =>
        {
            var held = new int[4];
            var inbox = new RtpMidiInbox(new Holder(held));
            var truth = new int[4];
            ushort number = 0;
            foreach (var (controller, value, lost) in sent)
            {
                truth[controller] = value;
                if (!lost)
                    Take(inbox, number, $"03 B0 {controller:X2} {value:X2}");
                number++;
            }

            var logs = string.Concat(truth.Select((value, controller) => $" {controller:X2} {value:X2}"));
            Take(inbox, (ushort)(number + 1), "00");
            Take(inbox, (ushort)(number + 3), $"40 20 00 00 00 0C 40 03{logs}");
            return held.SequenceEqual(truth);
        });

    [Fact]
    public void A_packet_allocates_nothing()
    {
        var quiet = new RtpMidiInbox(new Holder(new int[128]));
        var payload = Hex.Bytes("4A A0 24 40 00 25 41 00 B0 07 01 20 00 01 08 06 40 00 07 64");
        for (ushort warm = 0; warm < 200; warm++)
            quiet.Take(new(true, 97, (ushort)(2 * warm), 0, 1), payload);
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (ushort number = 200; number < 1200; number++)
            quiet.Take(new(true, 97, (ushort)(2 * number), 0, 1), payload);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
        Assert.Equal(0, quiet.Refused);
    }

    void ISessionListener.OnOpened()
    {
    }

    void ISessionListener.OnMessage(ReadOnlySpan<byte> message) => _heard.Add(Hex.Print(message));

    void ISessionListener.OnRestored(ReadOnlySpan<byte> message) => _restored.Add(Hex.Print(message));

    void ISessionListener.OnLost(int packets) => _lost += packets;

    private void Take(ushort number, string payload) => Take(_inbox, number, payload);

    private static void Take(RtpMidiInbox inbox, ushort number, string payload) => inbox.Take(new(Marker: true, 97, number, 0, 1), Hex.Bytes(payload));

    private sealed class Holder(int[] held) : ISessionListener
    {
        public void OnOpened()
        {
        }

        public void OnMessage(ReadOnlySpan<byte> message) => Hold(message);

        public void OnRestored(ReadOnlySpan<byte> message) => Hold(message);

        public void OnLost(int packets)
        {
        }

        private void Hold(ReadOnlySpan<byte> message)
        {
            if (message[0] == 0xB0)
                held[message[1]] = message[2];
        }
    }
}
