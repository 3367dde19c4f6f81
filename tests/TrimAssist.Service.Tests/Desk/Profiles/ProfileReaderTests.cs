using CsCheck;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Proposals;
using TrimAssist.Desk.Profiles;
using TrimAssist.Desk.Profiles.Reading;
using TrimAssist.Desk.Profiles.Values;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Profiles;

public sealed class ProfileReaderTests
{
    [Fact]
    public void A_full_profile_becomes_what_it_says()
    {
        var profile = ProfileTexts.Read(ProfileTexts.Full);

        Assert.Equal(("demo", "Demo desk", 24), (profile.Id, profile.Name, profile.Inputs));
        Assert.Equal(new HostAndPort("127.0.0.1", 9000), profile.Connection.Desk);
        Assert.Equal(new HostAndPort("127.0.0.1", 9001), profile.Connection.Listen);
        Assert.Equal(["127.0.0.1"], profile.Connection.AcceptFrom);
        var subscription = Assert.Single(profile.Subscriptions);
        Assert.Equal(TimeSpan.FromSeconds(5), subscription.Renew);
        Assert.Equal([new WireValue(WireType.Text, 0, "meters"), new WireValue(WireType.Whole, 50)], subscription.Message!.Arguments.Select(a => a.For(1, null)!.Value));
        Assert.Equal([MeterQuantity.Peak, MeterQuantity.Rms], profile.Meters.Select(m => m.Quantity));
        Assert.Equal(24, profile.Meters[1].Count);
        Assert.Equal(0.4, profile.Control(ControlKind.Trim)!.ToleranceDb);
        Assert.Equal("/in/7/trim", profile.Control(ControlKind.Trim)!.Write!.Address.Format(7, null));
    }

    [Fact]
    public void The_domain_learns_ranges_meters_and_who_else_hears_it()
    {
        var desk = ProfileTexts.Read(ProfileTexts.Full).Description;

        Assert.Equal(new MeterTraits(0.05, 0, MeterTap.Converter, false), desk.Meter);
        Assert.Equal((0, 54, 1, 0.4, false), (desk.Trim!.MinDb, desk.Trim.MaxDb, desk.Trim.StepDb, desk.Trim.ToleranceDb, desk.Trim.Digital));
        Assert.Equal(["monitors"], desk.Trim.SharedWith);
        Assert.Equal(20, desk.Pad!.PadDb);
        Assert.Equal(["main", "sends", "direct"], desk.Mute!.Covers);
        Assert.False(desk.FaderReadable);
    }

    [Fact]
    public void A_trim_without_its_range_is_read_but_never_written()
    {
        var profile = ProfileTexts.Read(ProfileTexts.Least + """
            [controls.trim]
            address = "/t/{input}"
            unit = "db"
            """);

        Assert.Null(profile.Description.Trim);
        Assert.False(profile.Control(ControlKind.Trim)!.Writable);
        Assert.NotNull(profile.Control(ControlKind.Trim)!.Query);
    }

    [Fact]
    public void Phantom_power_and_faders_are_read_and_never_written_whatever_the_profile_says_of_them()
    {
        var profile = ProfileTexts.Read(ProfileTexts.Least + """
            [controls.phantom]
            address = "/v/{input}"
            on = 1
            off = 0
            [controls.fader]
            address = "/f/{input}"
            unit = "db"
            value_type = "float"
            range_db = [-60.0, 10.0]
            """);

        Assert.All([ControlKind.Phantom, ControlKind.Fader], kind => Assert.False(profile.Control(kind)!.Writable));
        Assert.Equal([ProposalKind.Trim, ProposalKind.Pad, ProposalKind.Mute, ProposalKind.Unmute], Enum.GetValues<ProposalKind>());
    }

    [Fact]
    public void A_pad_without_its_size_is_read_but_never_written()
    {
        var profile = ProfileTexts.Read(ProfileTexts.Least + """
            [controls.pad]
            address = "/p/{input}"
            on = 1
            off = 0
            """);

        Assert.Null(profile.Description.Pad);
        Assert.False(profile.Control(ControlKind.Pad)!.Writable);
    }

    [Theory]
    [InlineData("tap = \"converter\"\n", "tap is absent")]
    [InlineData("follows_mute = false\n", "follows_mute is absent")]
    public void A_meter_that_does_not_say_how_it_is_read_is_good_for_warnings_only(string without, string note)
    {
        var reading = ProfileReader.Read(ProfileTexts.Least.Replace(without, string.Empty, StringComparison.Ordinal), "test.toml");

        Assert.False(reading.Profile!.Description.Meter.GoodForTrims);
        Assert.Contains(reading.Notes, n => n.Message.Contains(note, StringComparison.Ordinal));
    }

    [Fact]
    public void The_worst_tap_of_several_sources_counts()
    {
        var profile = ProfileTexts.Read(ProfileTexts.Full.Replace("count = 24\nframe_ms = 50\ntap = \"converter\"", "count = 24\nframe_ms = 50\ntap = \"fader\"", StringComparison.Ordinal));

        Assert.Equal(MeterTap.Fader, profile.Description.Meter.Tap);
    }

    [Fact]
    public void Constants_keep_the_type_they_are_written_in()
    {
        var profile = ProfileTexts.Read(ProfileTexts.Least + """
            [controls.mute]
            address = "/m/{input}"
            on = 0.0
            off = 1.0
            [controls.pad]
            address = "/p/{input}"
            on = true
            off = false
            pad_db = 10
            [controls.phantom]
            address = "/v/{input}"
            on = "on"
            off = "off"
            """);

        Assert.Equal(new WireValue(WireType.Real, 0), profile.Control(ControlKind.Mute)!.On);
        Assert.Equal(new WireValue(WireType.Flag, 1), profile.Control(ControlKind.Pad)!.On);
        Assert.Equal(new WireValue(WireType.Text, 0, "off"), profile.Control(ControlKind.Phantom)!.Off);
        Assert.False(profile.Control(ControlKind.Phantom)!.Writable);
    }

    [Fact]
    public void A_curve_gives_the_trim_its_range()
    {
        var trim = ProfileTexts.Read(ProfileTexts.Least + """
            [controls.trim]
            address = "/t/{input}"
            curve = [[0.0, -5.0], [0.5, 25.0], [1.0, 54.0]]
            step_db = 0.5
            """).Description.Trim!;

        Assert.Equal((-5, 54), (trim.MinDb, trim.MaxDb));
    }

    [Fact]
    public void A_file_that_is_not_there_is_an_answer()
    {
        var reading = ProfileReader.ReadFile(Path.Combine(Path.GetTempPath(), Guid.NewGuid().ToString("N"), "none.toml"));

        Assert.Null(reading.Profile);
        Assert.Equal((1, 1), (reading.Errors[0].Line, reading.Errors[0].Column));
    }

    [Fact]
    public void Any_text_is_read_or_refused_but_never_throws() =>
        Gen.String[Gen.Char["[]{}=\",.#\n \\'abz_0159-+:/\u0000ü"], 0, 80].Sample(
            text => ProfileReader.Read(text, "x") is { } reading && (reading.Profile is null) == (reading.Errors.Count > 0),
            iter: 3000);

    [Theory]
    [InlineData("a = ", "[")]
    [InlineData("a = ", "{a=")]
    [InlineData("", "[")]
    [InlineData("", "a.")]
    public void Brackets_nested_without_end_are_refused(string start, string again)
    {
        var reading = ProfileReader.Read(start + string.Concat(Enumerable.Repeat(again, 60_000)), "x");

        Assert.Null(reading.Profile);
        Assert.NotEmpty(reading.Errors);
    }

    [Fact]
    public void A_profile_with_a_line_missing_or_doubled_never_throws()
    {
        var lines = ProfileTexts.Full.Split('\n');
        Gen.Select(Gen.Int[0, lines.Length - 1], Gen.Int[0, lines.Length - 1], Gen.Bool).Sample(
            (from, to, remove) =>
            {
                List<string> changed = [.. lines];
                var line = changed[from];
                if (remove)
                    changed.RemoveAt(from);
                changed.Insert(Math.Min(to, changed.Count), line);
                var reading = ProfileReader.Read(string.Join('\n', changed), "x");
                return (reading.Profile is null) == (reading.Errors.Count > 0);
            },
            iter: 500);
    }
}
