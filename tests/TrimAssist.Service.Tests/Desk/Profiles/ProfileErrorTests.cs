using TrimAssist.Desk.Profiles.Reading;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Profiles;

public sealed class ProfileErrorTests
{
    [Theory]
    [InlineData("inputs = 24", "inputs = 0", 3, 10, "inputs", "between 1 and 1024")]
    [InlineData("inputs = 24", "inputs = \"24\"", 3, 10, "inputs", "must be a whole number, not a text")]
    [InlineData("id = \"demo\"", "id = \"Demo desk\"", 1, 6, "id", "a-z")]
    [InlineData("id = \"demo\"", "", 1, 1, "id", "is missing")]
    [InlineData("id = \"demo\"", "id = ", 1, 6, "", "")]
    [InlineData("id = \"demo\"", "id = 1979-05-27", 1, 6, "id", "dates and times")]
    [InlineData("name = \"Demo desk\"", "nmae = \"Demo desk\"", 2, 1, "nmae", "the nearest is name")]
    [InlineData("name = \"Demo desk\"", "id = \"again\"", 2, 1, "", "")]
    [InlineData("transport = \"udp\"", "transport = \"upd\"", 6, 13, "connection.transport", "none of udp, tcp, midi; the nearest is udp")]
    [InlineData("framing = \"datagram\"", "framing = \"slip\"", 7, 11, "connection.framing", "each UDP datagram is one packet")]
    [InlineData("transport = \"udp\"", "transport = \"tcp\"", 7, 11, "connection.framing", "over TCP")]
    [InlineData("desk = \"127.0.0.1:9000\"", "desk = \"127.0.0.1\"", 8, 8, "connection.desk", "is not host:port")]
    [InlineData("desk = \"127.0.0.1:9000\"", "desk = \"127.0.0.1:70000\"", 8, 8, "connection.desk", "is not host:port")]
    [InlineData("desk = \"127.0.0.1:9000\"", "desk = \"127.0.0.1:0\"", 8, 8, "connection.desk", "a port from 1")]
    [InlineData("accept_from = [\"127.0.0.1\"]", "accept_from = [\"127.0.0.1:9000\"]", 10, 16, "connection.accept_from[0]", "no port belongs here")]
    [InlineData("address = \"/hello\"", "address = \"hello\"", 13, 11, "subscription[0].address", "must begin with a slash")]
    [InlineData("address = \"/hello\"", "address = \"/in/3/trim\"", 13, 11, "subscription[0].address", "would set the trim", "arguments = [\"meters\", 50]", "arguments = [12.0]")]
    [InlineData("address = \"/hello\"", "address = \"/in/{input}/cut\"", 13, 11, "subscription[0].address", "would set the mute", "arguments = [\"meters\", 50]", "arguments = [true]")]
    [InlineData("address = \"/hello\"", "address = \"/in/3/label\"", 13, 11, "subscription[0].address", "would set the label")]
    [InlineData("address = \"/hello\"", "address = \"/in/*/trim\"", 13, 11, "subscription[0].address", "OSC forbids", "arguments = [\"meters\", 50]", "arguments = [12.0]")]
    [InlineData("arguments = [\"meters\", 50]", "arguments = [\"{value}\"]", 14, 14, "subscription[0].arguments[0]", "must not set anything")]
    [InlineData("renew_s = 5.0", "renew_s = -5.0", 15, 11, "subscription[0].renew_s", "between")]
    [InlineData("renew_s = 5.0", "renews = 5.0", 15, 1, "subscription[0].renews", "the nearest is renew_s")]
    [InlineData("address = \"/lv/{input}\"", "address = \"/lv\"", 18, 11, "meters[0].address", "names no input")]
    [InlineData("address = \"/lv/{input}\"", "address = \"/lv/{imput}\"", 18, 11, "meters[0].address", "{imput} is none of")]
    [InlineData("address = \"/lv/{input}\"", "address = \"/lv/{input}7\"", 18, 11, "meters[0].address", "a digit straight after")]
    [InlineData("address = \"/lv/{input}\"", "address = \"/lv/{input}{socket}\"", 18, 11, "meters[0].address", "without anything between")]
    [InlineData("address = \"/lv/{input}\"", "address = \"/lv/{input\"", 18, 11, "meters[0].address", "without its }")]
    [InlineData("address = \"/lv/{input}\"", "address = \"/in/{input}/pad\"", 18, 11, "meters[0].address", "where the pad is told")]
    [InlineData("argument = 0", "argument = 0.5", 21, 12, "meters[0].argument", "whole number")]
    [InlineData("quantity = \"rms\"", "quantity = \"peak\"", 28, 11, "meters[1].address", "an earlier [[meters]]")]
    [InlineData("element = \"float32\"", "element = \"int16\"", 27, 3, "meters[1].count_db", "is missing")]
    [InlineData("count = 24", "count = 25", 36, 9, "meters[1].count", "between 1 and 24")]
    [InlineData("address = \"/lv/all\"", "address = \"/lv/all/{input}\"", 28, 11, "meters[1].address", "names one input")]
    [InlineData("address = \"/in/{input}/trim\"\narguments", "address = \"/in/trim\"\narguments", 42, 11, "controls.trim.address", "the same for every input")]
    [InlineData("arguments = [\"{value}\"]", "arguments = [1]", 43, 13, "controls.trim.arguments", "exactly once")]
    [InlineData("range_db = [0.0, 54.0]", "range_db = [54.0, 0.0]", 46, 12, "controls.trim.range_db", "lower than the second")]
    [InlineData("range_db = [0.0, 54.0]", "range_db = [0.0, nan]", 46, 18, "controls.trim.range_db[1]", "must lie between")]
    [InlineData("step_db = 1.0", "step_db = 0", 47, 11, "controls.trim.step_db", "must lie between")]
    [InlineData("step_db = 1.0", "step_db = 60", 47, 11, "controls.trim.step_db", "larger than the range")]
    [InlineData("tolerance_db = 0.4", "tolerance_db = 1.0", 52, 16, "controls.trim.tolerance_db", "smaller than the step")]
    [InlineData("query = \"bare\"", "query = { address = \"/in/{input}/trim\", arguments = [0] }", 49, 9, "controls.trim.query", "would set the trim")]
    [InlineData("query = \"bare\"", "query = { address = \"/in/{input}/cut\", arguments = [1] }", 49, 9, "controls.trim.query", "would set the mute")]
    [InlineData("query = \"bare\"", "query = \"none\"", 51, 10, "controls.trim.verify", "cannot be asked", "verify = \"echo\"", "verify = \"query\"")]
    [InlineData("query = \"bare\"", "query = \"bear\"", 49, 9, "controls.trim.query", "is \"bare\", \"none\"")]
    [InlineData("unit = \"db\"\nvalue_type", "curve = [[0.0, 0.0], [0.5, 60.0], [1.0, 54.0]]\nvalue_type", 44, 9, "controls.trim.curve", "has to run one way")]
    [InlineData("address = \"/in/{input}/pad\"", "address = \"/in/{input}/trim\"", 56, 11, "controls.pad.address", "is what the trim has")]
    [InlineData("on = 1\noff = 0\npad_db", "off = 0\npad_db", 55, 11, "controls.pad.on", "is missing")]
    [InlineData("on = 1\noff = 0\npad_db", "on = 1\noff = 1\npad_db", 58, 7, "controls.pad.off", "is the same as on")]
    [InlineData("covers = [\"main\", \"sends\", \"direct\"]", "covers = [\"main\", \"send\"]", 65, 19, "controls.mute.covers[1]", "the nearest is sends")]
    [InlineData("[controls.source]\naddress = \"/in/{input}/from\"", "", 42, 11, "controls.trim.address", "no [controls.source]", "address = \"/in/{input}/trim\"\nargu", "address = \"/in/{socket}/trim\"\nargu")]
    [InlineData("[controls.label]", "[controls.lable]", 70, 11, "controls.lable", "the nearest is label")]
    [InlineData("[controls.label]", "[controls.pad]", 70, 1, "", "")]
    public void A_fault_is_named_with_its_line_column_and_key(
        string old, string now, int line, int column, string key, string message, string alsoOld = "", string alsoNow = "")
    {
        Assert.Contains(old, ProfileTexts.Full, StringComparison.Ordinal);
        var at = ProfileTexts.Full.IndexOf(old, StringComparison.Ordinal);
        var text = string.Concat(ProfileTexts.Full.AsSpan(0, at), now, ProfileTexts.Full.AsSpan(at + old.Length));
        if (alsoOld.Length > 0)
            text = text.Replace(alsoOld, alsoNow, StringComparison.Ordinal);

        var reading = ProfileReader.Read(text, "my desk.toml");

        Assert.Null(reading.Profile);
        var error = Assert.Single(reading.Errors, e => e.Message.Contains(message, StringComparison.Ordinal) && string.Equals(e.Key, key, StringComparison.Ordinal));
        Assert.Equal((line, column), (error.Line, error.Column));
        Assert.StartsWith($"my desk.toml:{line}:{column}: ", error.ToString(), StringComparison.Ordinal);
    }
}
