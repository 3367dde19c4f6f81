using TrimAssist.Desk.Profiles;
using TrimAssist.Desk.Profiles.Reading;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Profiles;

/// <summary>What a profile may say of a desk that speaks MIDI, and what is refused.</summary>
public sealed class MidiProfileTests
{
    private const string Good = """
        id = "keys"
        inputs = 8
        [connection]
        transport = "midi"
        port = "rtp:192.0.2.12:5004"
        [[meters]]
        poly_pressure = { channel = 1, note = "{input+35}" }
        quantity = "peak"
        range_db = [-63.5, 0.0]
        frame_ms = 50
        [controls.trim]
        sysex = "F0 7D 01 {input} {value:2} F7"
        range = [0, 600]
        range_db = [0.0, 60.0]
        step_db = 1.0
        [controls.mute]
        note = { channel = 3, note = "{input+59}" }
        on = 127
        off = 0
        """;

    private const string Trim = "sysex = \"F0 7D 01 {input} {value:2} F7\"";

    [Theory]
    [InlineData("note = \"{input+35}\"", "note = \"{input+121}\"", 7, 39, "is 129 for input 8: it must lie between 0 and 127")]
    [InlineData("channel = 1", "channel = 17", 7, 29, "between 1 and 16")]
    [InlineData("note = \"{input+35}\"", "note = \"{imput}\"", 7, 39, "is neither a number nor")]
    [InlineData("note = \"{input+35}\"", "note = 36", 7, 17, "names no input")]
    [InlineData("note = \"{input+35}\"", "nota = 36", 7, 32, "the nearest is note")]
    [InlineData("poly_pressure", "poly_presure", 6, 3, "exactly one of cc, cc14, nrpn, note, poly_pressure, sysex")]
    [InlineData("range_db = [-63.5, 0.0]", "", 6, 3, "is missing: what the ends of the range mean")]
    [InlineData(Trim, "cc = { channel = 1, controller = 7 }", 12, 6, "is the same for every input")]
    [InlineData(Trim, "cc14 = { channel = 1, controller = \"{input+30}\" }", 12, 36, "between 0 and 31")]
    [InlineData(Trim, "cc14 = { channel = 2, controller = \"{input+1}\" }", 12, 36, "controller 6")]
    [InlineData(Trim, "poly_pressure = { channel = 2, note = \"{input}\" }", 12, 17, "carries meters")]
    [InlineData(Trim, "cc = { channel = 2, controller = \"{input}\" }\nnote = { channel = 2, note = \"{input}\" }", 13, 8, "exactly one of")]
    [InlineData(Trim, "sysex = \"F0 7D 01 {input} {value:2}\"", 12, 9, "ends with F7")]
    [InlineData(Trim, "sysex = \"F0 7D 81 {input} {value:2} F7\"", 12, 9, "7F or less")]
    [InlineData(Trim, "sysex = \"F0 7D 01 {input} F7\"", 12, 9, "{value} exactly once")]
    [InlineData(Trim, "sysex = \"F0 7D {input} {value} {value} F7\"", 12, 9, "{value} exactly once")]
    [InlineData(Trim, "sysex = \"F0 7D 01 {input+125} {value:2} F7\"", 12, 9, "cannot carry the numbers of inputs 1 to 8")]
    [InlineData(Trim, "sysex = \"F0 7D 01 {input} {value:4} F7\"", 12, 9, "\"{value:4}\" is neither")]
    [InlineData(Trim, Trim + "\nchecksum = { rule = \"xor\" }", 13, 12, "write {checksum} into sysex")]
    [InlineData(Trim, "sysex = \"F0 7D 01 {input} {value:2} {checksum} F7\"\nchecksum = { rule = \"crc\" }", 13, 21, "none of sum-to-zero, sum, xor")]
    [InlineData("range = [0, 600]", "unit = \"db\"", 13, 8, "say range, the counts at the two ends")]
    [InlineData("range = [0, 600]", "range = [0, 20000]", 13, 13, "between 0 and 16383")]
    [InlineData("range = [0, 600]", "range = [0, 20]", 15, 11, "too fine")]
    [InlineData("on = 127", "on = 128", 18, 6, "whole number from 0 to 127")]
    [InlineData("on = 127", "on = true", 18, 6, "whole number from 0 to 127")]
    [InlineData("note = { channel = 3, note = \"{input+59}\" }", "sysex = \"F0 7D 01 {input} {value:2} F7\"", 16, 11, "told in the messages of the trim")]
    [InlineData("note = { channel = 3, note = \"{input+59}\" }", "sysex = \"F0 7D {input} {value} F7\"", 11, 11, "would set the mute: a query must not carry a value")]
    [InlineData("[[meters]]", "[[subscription]]\nsysex = \"F0 7D 01 03 02 2C F7\"\n[[meters]]", 7, 9, "would set the trim: a subscription must not carry a value")]
    [InlineData("[[meters]]", "[[subscription]]\nsysex = \"F0 7D 20 {value} F7\"\n[[meters]]", 7, 9, "must not set anything")]
    [InlineData("step_db = 1.0", "query = { sysex = \"F0 7D 01 {input} 00 00 F7\" }", 15, 9, "would set the trim: a query must not carry a value")]
    [InlineData("step_db = 1.0", "query = \"none\"\nverify = \"query\"", 16, 10, "nothing can ask here")]
    [InlineData("rtp:192.0.2.12:5004", "rtp:192.0.2.12", 5, 8, "rtp:HOST:PORT")]
    [InlineData("rtp:192.0.2.12:5004", "rtp:192.0.2.12:65535", 5, 8, "the one above it is used too")]
    public void A_fault_is_named_where_it_stands(string old, string now, int line, int column, string message)
    {
        Assert.Contains(old, Good, StringComparison.Ordinal);
        var at = Good.IndexOf(old, StringComparison.Ordinal);
        var reading = ProfileReader.Read(string.Concat(Good.AsSpan(0, at), now, Good.AsSpan(at + old.Length)), "keys.toml");
        Assert.Null(reading.Profile);
        Assert.Contains(reading.Errors, error => (error.Line, error.Column) == (line, column) && error.Message.Contains(message, StringComparison.Ordinal));
    }

    [Fact]
    public void The_good_one_is_good() => Assert.Empty(ProfileReader.Read(Good, "keys.toml").Errors);

    [Theory]
    [InlineData("nrpn = { channel = 1, parameter = \"{input}\" }", "cc = { channel = 1, controller = \"{input+90}\" }")]
    [InlineData("cc = { channel = 1, controller = \"{input}\" }", "nrpn = { channel = 1, parameter = \"{input}\" }")]
    public void Parameters_and_the_controllers_that_carry_them_cannot_both_be_used_on_a_channel_whichever_comes_first(string trim, string mute)
    {
        string[] Faults(string closer) => [.. ProfileReader.Read(
            Good.Replace(Trim, trim, StringComparison.Ordinal).Replace("range = [0, 600]\n", "", StringComparison.Ordinal)
                .Replace("note = { channel = 3, note = \"{input+59}\" }", closer, StringComparison.Ordinal), "keys.toml").Errors.Select(error => error.Message)];

        Assert.Contains(Faults(mute), fault => fault.Contains("is told in the messages of the trim", StringComparison.Ordinal));
        Assert.Contains(Faults(mute), fault => fault.Contains("is set by the messages of the trim", StringComparison.Ordinal));
        Assert.Empty(Faults(mute.Replace("channel = 1", "channel = 2", StringComparison.Ordinal)));
    }

    [Theory]
    [InlineData("", "counts from 0 to 16383, and the control itself from 0 to 600")]
    [InlineData(", range = [0, 500]", "counts from 0 to 500")]
    [InlineData(", range = [0, 600]", null)]
    public void A_reply_that_counts_otherwise_than_the_control_is_refused(string range, string? message)
    {
        var text = Good.Replace("step_db = 1.0", $"reply = {{ sysex = \"F0 7D 05 13 {{input}} {{value:2}} F7\"{range} }}\nstep_db = 1.0", StringComparison.Ordinal);
        var errors = ProfileReader.Read(text, "keys.toml").Errors;
        if (message is null)
            Assert.Empty(errors);
        else
            Assert.Contains(message, Assert.Single(errors).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_switch_is_told_by_numbers_that_the_reply_can_carry()
    {
        var text = Good.Replace("note = { channel = 3, note = \"{input+59}\" }", "cc14 = { channel = 3, controller = \"{input}\" }\nreply = { note = { channel = 3, note = \"{input+59}\" } }", StringComparison.Ordinal)
            .Replace("on = 127", "on = 16383", StringComparison.Ordinal);
        Assert.Contains(ProfileReader.Read(text, "keys.toml").Errors, error => error.Message.Contains("from 0 to 127", StringComparison.Ordinal));
    }

    [Fact]
    public void Two_inputs_numbers_apart_in_the_same_message_are_two_controls()
    {
        var text = Good.Replace("note = { channel = 3, note = \"{input+59}\" }", "sysex = \"F0 7D 01 {input+32} {value:2} F7\"\nquery = \"none\"", StringComparison.Ordinal);
        Assert.Empty(ProfileReader.Read(text, "keys.toml").Errors);
    }

    [Theory]
    [InlineData("curve = [[0, 0.0], [300, 20.0], [600, 60.0]]")]
    [InlineData("range = [0, 600]\ncurve = [[0.0, 0.0], [0.5, 20.0], [1.0, 60.0]]")]
    [InlineData("range = [0, 600]\ncurve = [[0, 0.0], [300, 20.0], [600, 60.0]]")]
    public void A_curve_runs_over_the_values_or_over_the_fractions_of_the_range(string scale)
    {
        var text = Good.Replace("range = [0, 600]\nrange_db = [0.0, 60.0]", scale, StringComparison.Ordinal);
        var trim = Read(text).Control(ControlKind.Trim)!;
        Assert.Equal([0, 10, 20, 60], new[] { 0.0, 150, 300, 600 }.Select(value => Math.Round(trim.Scale!.ToDb(value)!.Value, 6)));
    }

    [Fact]
    public void Steps_and_tolerance_are_no_finer_than_a_count()
    {
        var text = Good.Replace(Trim, "cc = { channel = \"{input}\", controller = 7 }", StringComparison.Ordinal)
            .Replace("range = [0, 600]\n", "", StringComparison.Ordinal).Replace("step_db = 1.0\n", "", StringComparison.Ordinal);
        var profile = Read(text);
        Assert.Equal(60.0 / 127, profile.Description.Trim!.StepDb, 1e-9);
        Assert.InRange(profile.Control(ControlKind.Trim)!.ToleranceDb, 0.5 * 60 / 127, 60.0 / 127);
    }

    [Theory]
    [InlineData("range_db = [-63.5, 0.0]", 64, -31.5)]
    [InlineData("unit = \"dbfs\"\nrange_db = [-63.5, 0.0]", 64, -31.5)]
    [InlineData("range = [27, 127]\nrange_db = [-50.0, 0.0]", 77, -25.0)]
    [InlineData("unit = \"dbfs\"\ncount_db = -0.5", 64, -32.0)]
    [InlineData("unit = \"dbfs\"\ncount_db = 0.5\noffset_db = -63.5", 64, -31.5)]
    [InlineData("unit = \"amplitude\"\nrange = [0, 100]", 10, -20.0)]
    public void Meter_counts_are_levels(string scale, int count, double level)
    {
        var meter = Read(Good.Replace("range_db = [-63.5, 0.0]", scale, StringComparison.Ordinal)).Meters[0];
        Assert.Equal(level, meter.Scale.ToDbfs(count), 1e-4);
    }

    [Fact]
    public void A_control_that_cannot_be_asked_for_is_a_note() =>
        Assert.Contains(ProfileReader.Read(Good, "keys.toml").Notes, note => note.Key.StartsWith("controls.mute", StringComparison.Ordinal) && note.Message.Contains("cannot be had", StringComparison.Ordinal));

    private static DeskProfile Read(string text)
    {
        var reading = ProfileReader.Read(text, "keys.toml");
        Assert.Empty(reading.Errors);
        return reading.Profile!;
    }
}
