using CsCheck;
using TrimAssist.Core.Alarms;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Time;
using TrimAssist.Core.Wording;
using TrimAssist.Service.Surfaces;
using Xunit;

namespace TrimAssist.Service.Tests.Surfaces;

/// <summary>What a press may answer: the proposal that was shown, and only after it has been shown for a second.</summary>
public sealed class SurfaceBoardTests
{
    private readonly SurfaceBoard _board = new(2);

    [Fact]
    public void A_press_answers_what_has_been_shown_for_a_second_and_nothing_earlier()
    {
        var first = Make(1);
        Show(0, first);
        Assert.Equal(SlotState.Settling, _board.Look(1, S(0.99), out var early));
        Assert.Null(early);
        Assert.Equal(SlotState.Ready, _board.Look(1, S(1), out var shown));
        Assert.Equal(first.Digest, shown!.Digest);
        Assert.Equal(SlotState.Empty, _board.Look(2, S(5), out _));
        Assert.Equal(SlotState.Empty, _board.Look(0, S(5), out _));
        Assert.Equal(SlotState.Empty, _board.Look(3, S(5), out _));
    }

    [Fact]
    public void What_takes_the_place_of_another_waits_its_own_second_and_the_others_stay_where_they_are()
    {
        var (first, second, third) = (Make(1), Make(2), Make(3));
        Show(0, first, second);
        Show(5, second, third);
        Assert.Equal(SlotState.Settling, _board.Look(1, S(5.5), out _));
        Assert.Equal(SlotState.Ready, _board.Look(2, S(5.5), out var stayed));
        Assert.Equal(second.Digest, stayed!.Digest);
    }

    [Fact]
    public void A_danger_sends_the_engineer_to_the_page_and_one_that_comes_up_makes_the_slot_new()
    {
        var shown = Make(1);
        Show(0, shown);
        Show(2, shown with { Needs = [Dangers.OpenIncrease] });
        Assert.Equal(SlotState.OnThePage, _board.Picture(S(2)).Slots[0].State);
        Assert.Equal(SlotState.Settling, _board.Look(1, S(2.5), out _));
        Assert.Equal(SlotState.OnThePage, _board.Look(1, S(4), out _));
    }

    [Fact]
    public void While_no_picture_can_be_sent_nothing_counts_as_shown()
    {
        Show(0, Make(1));
        _board.NotLeft();
        Assert.Equal(SlotState.Settling, _board.Look(1, S(9), out _));
        _board.Left(S(9));
        Assert.Equal(SlotState.Ready, _board.Look(1, S(10), out _));
    }

    [Fact]
    public void An_alarm_that_has_just_come_is_not_acknowledged_by_the_press_meant_for_another()
    {
        _board.Put([], [Alarm(AlarmKind.Pop)]);
        _board.Left(S(0));
        Assert.NotNull(_board.LookAtAlarm(S(1)));
        _board.Put([], [Alarm(AlarmKind.Ring)]);
        _board.Left(S(2));
        Assert.Null(_board.LookAtAlarm(S(2.9)));
        Assert.Equal(AlarmKind.Ring, _board.LookAtAlarm(S(3))!.Kind);
    }

    [Fact]
    public void An_alarm_stays_until_it_is_acknowledged_or_a_more_urgent_one_comes_so_that_a_flood_can_be_worked_off()
    {
        var (first, second) = (Alarm(AlarmKind.Pop), Alarm(AlarmKind.Ring));
        var hot = Alarm(AlarmKind.Hot) with { Priority = AlarmPriority.Medium };
        AssertShows(hot, hot);
        AssertShows(first, hot, first);
        AssertShows(first, hot, first, second);
        AssertShows(second, hot, second);
        AssertShows(second, Alarm(AlarmKind.Pop), hot, second);

        void AssertShows(Alarm shown, params Alarm[] waiting)
        {
            _board.Put([], waiting);
            _board.Left(S(0));
            Assert.Equal(shown.Id, _board.LookAtAlarm(S(10))!.Id);
        }
    }

    [Fact]
    public void A_mute_takes_the_last_place_of_what_can_wait_and_is_not_confirmed_by_the_press_meant_for_that()
    {
        var (first, second, mute, third) = (Make(1), Make(2), Make(9, mute: true), Make(3, mute: true));
        Show(10, first, second);
        Show(15, first, second, mute);
        Assert.Equal(SlotState.Settling, _board.Look(2, S(15.5), out _));
        _board.Look(2, S(16), out var shown);
        Assert.Equal(mute.Digest, shown!.Digest);
        _board.Look(1, S(16), out var kept);
        Assert.Equal(first.Digest, kept!.Digest);
        Show(20, first, second, mute, third);
        _board.Look(1, S(21), out var alsoMute);
        Assert.Equal(third.Digest, alsoMute!.Digest);
    }

    [Fact]
    public void Whatever_changes_and_whenever_it_is_pressed_a_press_answers_only_what_every_picture_of_the_last_second_showed_there()
    {
        var step = Gen.Select(Gen.Int[0, 7], Gen.Int[0, 4], Gen.Int[1, 700], Gen.Bool);
        step.Array[1, 60].Sample(steps =>
        {
            var board = new SurfaceBoard(2);
            List<(TimeSpan At, string[]? Digests)> sent = [(TimeSpan.Zero, null)];
            var open = new List<Proposal>();
            var made = 0;
            var now = TimeSpan.Zero;
            foreach (var (what, which, ms, works) in steps)
            {
                now += TimeSpan.FromMilliseconds(ms);
                if (what <= 1)
                    open.Add(Make(++made, mute: which == 0));
                else if (what == 2 && open.Count > 0)
                    open.RemoveAt(which % open.Count);
                else if (what == 3 && open.Count > 0)
                    open[which % open.Count] = open[which % open.Count] with { Needs = open[which % open.Count].Needs.Count > 0 ? [] : [Dangers.SharedPreamp] };
                if (what <= 4)
                {
                    board.Put([.. open], []);
                    if (works)
                        board.Left(now);
                    else
                        board.NotLeft();
                    sent.Add((now, works ? [.. board.Picture(now).Slots.Select(slot => slot.Digest)] : null));
                }

                var slot = 1 + (which % 2);
                if (board.Look(slot, now, out var shown) != SlotState.Ready)
                    continue;
                Assert.Empty(shown!.Needs);
                var lastSecond = sent.FindAll(picture => picture.At > now - SurfaceBoard.Steady).Prepend(sent.FindLast(picture => picture.At <= now - SurfaceBoard.Steady));
                Assert.All(lastSecond, picture => Assert.Equal(shown.Digest, picture.Digests?[slot - 1]));
            }
        });
    }

    private static TimeSpan S(double seconds) => TimeSpan.FromSeconds(seconds);

    private static Alarm Alarm(AlarmKind kind) => new()
    {
        Id = Guid.NewGuid(),
        Desk = "desk",
        Kind = kind,
        Priority = AlarmPriority.High,
        At = new Moment(TimeSpan.Zero, DateTimeOffset.UnixEpoch),
        Text = Saying.Plain(kind.ToString()),
    };

    private static Proposal Make(int number, bool mute = false)
    {
        var id = Guid.NewGuid();
        var kind = mute ? ProposalKind.Mute : ProposalKind.Trim;
        var (from, to) = mute ? (SettingValue.Switch(false), SettingValue.Switch(true)) : (SettingValue.Gain(20), SettingValue.Gain(10 + number));
        return new Proposal
        {
            Id = id,
            Desk = "desk",
            Inputs = [number],
            Kind = kind,
            From = from,
            To = to,
            Reason = Saying.Plain("because"),
            Evidence = new ProposalEvidence(),
            Affects = [],
            Needs = [],
            Digest = ProposalDigest.Of(id, "desk", [number], null, kind, from, to, 1),
            CreatedAt = new Moment(TimeSpan.FromSeconds(number), DateTimeOffset.UnixEpoch),
            ExpiresAt = new Moment(TimeSpan.FromHours(1), DateTimeOffset.UnixEpoch),
            SequenceId = id,
        };
    }

    private void Show(double atS, params Proposal[] open)
    {
        _board.Put(open, []);
        _board.Left(S(atS));
    }
}
