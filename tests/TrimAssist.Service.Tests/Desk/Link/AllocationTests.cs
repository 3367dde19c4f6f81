using System.Buffers.Binary;
using Microsoft.Extensions.Time.Testing;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Listening;
using TrimAssist.Core.Listening.Jumps;
using TrimAssist.Core.Listening.Levels;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Wording;
using TrimAssist.Desk.Link;
using TrimAssist.Desk.Link.Transport;
using TrimAssist.Desk.Profiles;
using TrimAssist.Protocols.Osc;
using TrimAssist.TestKit.Desks;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Link;

/// <summary>From the datagram in the socket to the listeners of its inputs: not one byte allocated.</summary>
public sealed class AllocationTests
{
    private const int Inputs = 4;
    private const int Frames = 400;

    public static TheoryData<string, string> Forms => new()
    {
        { "one message an input", LinkProfiles.Peaks },
        { "one bundle with time tag", LinkProfiles.Peaks },
        {
            "one blob", """
            [[meters]]
            address = "/t/all"
            quantity = "peak"
            unit = "dbfs"
            packing = "blob"
            frame_ms = 50
            """
        },
        {
            "one argument list", """
            [[meters]]
            address = "/t/all"
            quantity = "peak"
            unit = "dbfs"
            packing = "arguments"
            frame_ms = 50
            """
        },
    };

    [Theory]
    [MemberData(nameof(Forms))]
    public void A_frame_allocates_nothing_on_its_way_to_the_listeners(string form, string meters)
    {
        using var desk = new ForeignDesk();
        var profile = LinkProfiles.Udp(desk.EndPoint, meters);
        var time = new FakeTimeProvider();
        using var socket = DeskSockets.Open(profile, time);
        desk.Service = socket.LocalEndPoint!.Serialize();
        var ears = new BareEars(profile);
        var session = new DeskSession(profile, ears, socket, socket.Sources, time);
        session.Start();
        var packets = Enumerable.Range(0, 20).Select(frame => Packets(form, frame)).ToArray();

        long allocated = 0;
        for (var frame = 0; frame < 2 * Frames; frame++)
        {
            time.Advance(SessionBench.Frame);
            foreach (var packet in packets[frame % packets.Length])
                desk.Say(packet);
            var before = GC.GetAllocatedBytesForCurrentThread();
            socket.Drain(session, 512);
            session.Tick();
            allocated += frame < Frames ? 0 : GC.GetAllocatedBytesForCurrentThread() - before;
        }

        Assert.Equal(2 * Frames * Inputs, ears.Heard);
        Assert.Equal(0, allocated);
    }

    private static byte[][] Packets(string form, int frame)
    {
        var levels = Enumerable.Range(1, Inputs).Select(input => -20f - ((frame + input) % 9)).ToArray();
        var messages = levels.Select((level, index) => new OscMessage($"/t/{index + 1}/top", OscArgument.Of(level)));
        switch (form)
        {
            case "one message an input":
                return [.. messages.Select(message => message.Encode())];
            case "one blob":
                var blob = new byte[Inputs * sizeof(float)];
                foreach (var (index, level) in levels.Index())
                    BinaryPrimitives.WriteSingleBigEndian(blob.AsSpan(index * sizeof(float)), level);
                return [new OscMessage("/t/all", OscArgument.OfBlob(blob)).Encode()];
            case "one argument list":
                return [new OscMessage("/t/all", [.. levels.Select(OscArgument.Of)]).Encode()];
            default:
                var bytes = new byte[1024];
                var writer = new OscWriter(bytes);
                writer.BeginBundle(OscTimeTag.Immediate);
                foreach (var message in messages)
                    message.WriteTo(ref writer);
                writer.EndBundle();
                Assert.True(writer.TryFinish(out var length));
                return [bytes[..length]];
        }
    }

    private sealed class BareEars(DeskProfile profile) : IDeskSink
    {
        private readonly LevelListener[] _levels = [.. Enumerable.Range(1, Inputs).Select(input => new LevelListener(input, profile.Description.Meter))];
        private readonly StageListener _stage = new(Inputs, profile.Description.Meter);
        private readonly FindingRing _found = new();

        public int Heard { get; private set; }

        public void OnReading(in MeterReading reading)
        {
            Heard++;
            _levels[reading.Input - 1].Observe(reading);
            _stage.Observe(reading, _found);
            while (_found.TryTake(out _))
            {
                // What is found is not what is measured here.
            }
        }

        public void OnSettings(InputSettings before, InputSettings now)
        {
        }

        public void OnLink(LinkState state, Saying reason)
        {
        }

        public void OnDeskNote(DeskNote note)
        {
        }
    }
}
