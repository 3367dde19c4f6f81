using Bunit;
using TrimAssist.Core.Alarms;
using TrimAssist.Core.Patch;
using TrimAssist.Core.Wording;
using TrimAssist.Service.Pages.Engineer;
using TrimAssist.Service.Pages.Picture;
using Xunit;

namespace TrimAssist.Service.Tests.Pages;

public sealed class BannerTests : BunitContext
{
    private readonly List<Guid> _seen = [];
    private readonly List<Guid> _shelved = [];

    [Fact]
    public void Without_alarms_it_says_so_and_offers_nothing()
    {
        var banner = Show();
        Assert.Equal("Nothing urgent.", banner.Find(".matter").TextContent);
        Assert.Empty(banner.FindAll("button"));
        Assert.Equal("", banner.Find("[role=status]").TextContent);
    }

    [Fact]
    public void A_desk_that_is_not_heard_is_never_called_nothing_urgent()
    {
        var banner = Show(Pictures.Desk(Pictures.Input(1)) with { Link = Core.Desks.LinkState.Lost, LinkReason = Saying.Plain("The desk is silent.") });
        Assert.Equal("The desk is not heard", banner.Find(".headline").TextContent);
        Assert.StartsWith("The desk is silent. Look at its power", banner.Find(".advice").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void A_pop_brings_its_mute_and_is_told_to_a_screen_reader()
    {
        var mute = Pictures.Mute(1);
        var pop = Pictures.Alarm(AlarmKind.Pop, 1) with { ProposalId = mute.Id };
        var banner = Show(Pictures.Desk(Pictures.Input(1, "Pedal steel")) with { Alarms = [pop], Proposals = [mute] });
        Assert.Equal(mute.Digest, banner.Find(".confirm.mute").GetAttribute("data-digest"));
        Assert.StartsWith("Pop · 1 Pedal steel.", banner.Find("[role=status]").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void A_mute_that_is_no_longer_open_is_not_offered()
    {
        var mute = Pictures.Mute(1) with { State = Core.Proposals.ProposalState.Expired };
        var pop = Pictures.Alarm(AlarmKind.Pop, 1) with { ProposalId = mute.Id };
        Assert.Empty(Show(Pictures.Desk(Pictures.Input(1)) with { Alarms = [pop], Proposals = [mute] }).FindAll(".confirm"));
    }

    [Fact]
    public void The_first_alarm_stands_in_it_and_the_others_wait_in_a_list()
    {
        var (first, second) = (Pictures.Alarm(AlarmKind.Ring, 1), Pictures.Alarm(AlarmKind.Dropout, 2, AlarmPriority.Medium));
        var banner = Show(Pictures.Desk(Pictures.Input(1), Pictures.Input(2)) with { Alarms = [first, second] });
        Assert.Contains("Ring · 1", banner.Find(".matter").TextContent, StringComparison.Ordinal);
        Assert.Equal("1 more", banner.Find("summary").TextContent);
        banner.Find(".alarms button").Click();
        Assert.Equal([second.Id], _seen);
    }

    [Fact]
    public void The_stage_that_asks_comes_before_all_but_an_urgent_alarm()
    {
        var asked = Pictures.Mute(1) with { Reason = Saying.Plain("The stage asks for a safe patch: Another cable") };
        var patch = new SafePatch
        {
            Id = Guid.NewGuid(),
            Desk = asked.Desk,
            Inputs = [1],
            AskedAt = asked.CreatedAt,
            Text = "The engineer is asked.",
            OpenPaths = [],
            MutedBefore = false,
            MuteProposal = asked.Id,
        };
        var desk = Pictures.Desk(Pictures.Input(1), Pictures.Input(2)) with { Proposals = [asked], Patches = [patch] };
        var banner = Show(desk with { Alarms = [Pictures.Alarm(AlarmKind.Hot, 2, AlarmPriority.Medium)] });
        Assert.Contains("Another cable", banner.Find(".matter").TextContent, StringComparison.Ordinal);
        Assert.Equal(asked.Digest, banner.Find(".confirm.mute").GetAttribute("data-digest"));
        Assert.Contains("Ring", Show(desk with { Alarms = [Pictures.Alarm(AlarmKind.Ring, 2)] }).Find(".matter").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void A_mute_that_the_engineer_asked_for_is_not_laid_to_the_stage()
    {
        var desk = Pictures.Desk(Pictures.Input(1), Pictures.Input(2)) with { Proposals = [Pictures.Mute(1)], Alarms = [Pictures.Alarm(AlarmKind.Hot, 2, AlarmPriority.Medium)] };

        Assert.DoesNotContain("The stage asks", Show(desk).Find(".matter").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void Only_an_urgent_alarm_that_nobody_has_seen_is_named_to_the_sound()
    {
        var ring = Pictures.Alarm(AlarmKind.Ring, 1);
        var desk = Pictures.Desk(Pictures.Input(1));
        Assert.Equal(ring.Id.ToString(), Show(desk with { Alarms = [ring] }).Find(".banner").GetAttribute("data-urgent"));
        Assert.Null(Show(desk with { Alarms = [ring with { State = AlarmState.Acknowledged }] }).Find(".banner").GetAttribute("data-urgent"));
        Assert.Null(Show(desk with { Alarms = [Pictures.Alarm(AlarmKind.Hot, 1, AlarmPriority.Medium)] }).Find(".banner").GetAttribute("data-urgent"));
    }

    [Fact]
    public void One_cable_with_eight_inputs_is_one_matter_that_names_them_and_one_control_that_mutes_them()
    {
        var inputs = Enumerable.Range(1, 8).ToArray();
        var mutes = inputs.Select(Pictures.Mute).ToArray();
        var pops = Pictures.Group(AlarmKind.Pop, inputs).Select((pop, index) => pop with { ProposalId = mutes[index].Id }).ToArray();
        var banner = Show(Pictures.Desk([.. inputs.Select(input => Pictures.Input(input, $"Line {input}"))]) with { Alarms = pops, Proposals = mutes });
        Assert.Contains("Pop · 8 inputs: 1, 2, 3, 4, 5, 6, 7, 8", banner.Find(".headline").TextContent, StringComparison.Ordinal);
        Assert.Empty(banner.FindAll("summary"));
        var control = banner.Find(".confirm.mute");
        Assert.Equal("twice", control.GetAttribute("data-gesture"));
        Assert.Equal(mutes.Select(mute => $"{mute.Id}:{mute.Digest}"), control.GetAttribute("data-lines")!.Split(' '));
        Assert.Contains("Mute 8 inputs", control.TextContent, StringComparison.Ordinal);

        banner.FindAll("button.tool")[0].Click();
        Assert.Equal(pops.Select(pop => pop.Id), _seen);
        banner.FindAll("button.tool")[1].Click();
        Assert.Equal(pops.Select(pop => pop.Id), _shelved);
    }

    [Fact]
    public void Where_one_of_a_cause_still_offers_its_mute_that_one_is_named()
    {
        var (over, open) = (Pictures.Mute(1) with { State = Core.Proposals.ProposalState.Expired }, Pictures.Mute(2));
        var pops = Pictures.Group(AlarmKind.Pop, 1, 2).Zip([over, open], (pop, mute) => pop with { ProposalId = mute.Id }).ToArray();
        var banner = Show(Pictures.Desk(Pictures.Input(1), Pictures.Input(2)) with { Alarms = pops, Proposals = [over, open] });
        Assert.Equal(open.Digest, banner.Find(".confirm.mute").GetAttribute("data-digest"));
        Assert.Contains("Again: mute 2", banner.Find(".confirm .second").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void Seen_and_shelve_name_the_alarm_shown()
    {
        var alarm = Pictures.Alarm(AlarmKind.Overload, 1, AlarmPriority.Medium);
        var banner = Show(Pictures.Desk(Pictures.Input(1)) with { Alarms = [alarm] });
        banner.FindAll("button")[0].Click();
        banner.FindAll("button")[1].Click();
        Assert.Equal([alarm.Id], _seen);
        Assert.Equal([alarm.Id], _shelved);
    }

    [Theory]
    [InlineData(AlarmState.Unacknowledged, "‼ now", "high")]
    [InlineData(AlarmState.Acknowledged, "seen", "low")]
    [InlineData(AlarmState.Returned, "over", "medium")]
    public void How_urgent_it_is_stands_in_words_and_not_in_colour_alone(AlarmState state, string words, string tone)
    {
        var banner = Show(Pictures.Desk(Pictures.Input(1)) with { Alarms = [Pictures.Alarm(AlarmKind.Ring, 1) with { State = state }] });
        Assert.Equal(words, banner.Find(".when").TextContent);
        Assert.Contains(tone, banner.Find(".banner").ClassList);
    }

    private IRenderedComponent<Banner> Show(DeskSnapshot? now = null) => Render<Banner>(with => with
        .Add(one => one.Now, now ?? Pictures.Desk())
        .Add(one => one.Acknowledge, id => { _seen.Add(id); return Task.CompletedTask; })
        .Add(one => one.Shelve, id => { _shelved.Add(id); return Task.CompletedTask; }));
}
