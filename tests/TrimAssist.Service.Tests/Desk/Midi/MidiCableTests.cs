using Microsoft.Extensions.Time.Testing;
using TrimAssist.TestKit.Midi;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Midi;

/// <summary>What a port promises, held by the cable that other tests plug in.</summary>
public sealed class MidiCableTests
{
    private readonly FakeTimeProvider _time = new();
    private readonly MidiCable _cable;
    private readonly HeardMidi _heard = new();

    public MidiCableTests() => _cable = new MidiCable(_time);

    [Fact]
    public void What_is_sent_at_one_end_comes_out_at_the_other_with_its_time()
    {
        var sentAt = _time.GetTimestamp();
        Assert.True(_cable.Far.TrySend([0x90, 60, 100], out _));
        _time.Advance(TimeSpan.FromSeconds(1));
        _cable.Near.Drain(_heard, 8);
        Assert.Equal([(byte[])[0x90, 60, 100]], _heard.Pieces);
        Assert.Equal(sentAt, Assert.Single(_heard.Timestamps));
    }

    [Fact]
    public void A_pulled_cable_loses_what_is_under_way_and_says_so()
    {
        _cable.Near.Drain(_heard, 8);
        _cable.Far.TrySend([0xB0, 7, 1], out _);
        _cable.Pull();
        Assert.False(_cable.Near.TrySend([0xB0, 7, 2], out var fault));
        Assert.Equal(_cable.Near.Trouble, fault);
        _cable.PlugIn();
        _cable.Near.Drain(_heard, 8);
        Assert.Empty(_heard.Pieces);
        Assert.Equal([false, true], _heard.Connections);
    }

    [Fact]
    public void No_more_is_handed_over_than_was_asked_for()
    {
        for (byte note = 0; note < 5; note++)
            _cable.Far.TrySend([0x90, note, 1], out _);
        _cable.Near.Drain(_heard, 2);
        Assert.Equal(2, _heard.Pieces.Count);
    }
}
