using System.Text.RegularExpressions;
using TrimAssist.Protocols.Osc;
using TrimAssist.Service.Failures;
using TrimAssist.Service.Hosting;
using TrimAssist.Service.Security;
using TrimAssist.Service.Surfaces;
using TrimAssist.Service.Tests.Journal;
using Xunit;

namespace TrimAssist.Service.Tests.Surfaces;

/// <summary>Surfaces in the settings file, and the page that describes them.</summary>
public sealed partial class SurfaceSettingsTests
{
    private const string Good = """{ "name": "p", "desk": "d", "role": "room", "osc": { "listen": "127.0.0.1:9100", "feedback": "127.0.0.1:9101" } }""";

    [Fact]
    public void Without_any_in_the_file_there_is_none() => Assert.Empty(Read("""{ "desks": ["a.toml"] }"""));

    [Fact]
    public void The_documents_example_is_read_as_it_says()
    {
        var surfaces = Read(Example().Match(Document()).Groups["json"].Value);
        Assert.Equal(["pedals", "stage left"], surfaces.Select(one => one.Name));
        var (pedals, left) = (Assert.IsType<OscPlace>(surfaces[0].Place), Assert.IsType<OscPlace>(surfaces[1].Place));
        Assert.Equal((Role.Engineer, 4, "127.0.0.1"), (surfaces[0].Role, surfaces[0].Slots, pedals.AcceptFrom.Single().ToString()));
        Assert.Equal((Role.Stage, "0.0.0.0:9102", "192.0.2.20"), (surfaces[1].Role, left.Listen.ToString(), left.AcceptFrom.Single().ToString()));
        Assert.Equal([1, 2, 3], surfaces[1].Inputs!);
    }

    [Fact]
    public void The_documents_MIDI_example_is_read_as_it_says()
    {
        var surfaces = Read(Example().Matches(Document())[1].Groups["json"].Value);
        Assert.Equal(["pads", "foot switch"], surfaces.Select(one => one.Name));
        var (pads, pedal) = (Assert.IsType<MidiPlace>(surfaces[0].Place), Assert.IsType<MidiPlace>(surfaces[1].Place));
        Assert.Equal(("Eight Pads", null, 2), (pads.Port, pads.Partner, surfaces[0].Slots));
        Assert.Equal(new Press(PressKind.Decline, 2), pads.Keys.Presses[new(IsNote: true, 10, 41)]);
        Assert.Equal(new MidiKey(IsNote: false, 10, 20), pads.Keys.Lamps[new(PressKind.Acknowledge, 0)]);
        Assert.Equal(new MidiKey(IsNote: true, 10, 36), pads.Keys.Lamps[new(PressKind.Confirm, 1)]);
        Assert.Equal(new LampValues(0, 1, 127, 64), pads.Keys.Values);
        Assert.Equal((null, "192.0.2.31:5004", "192.0.2.31", 0), (pedal.Port, pedal.Partner!.ToString(), pedal.AcceptFrom.Single().ToString(), surfaces[1].Slots));
        Assert.Equal(new Press(PressKind.Patch, 3), pedal.Keys.Presses[new(IsNote: false, 1, 64)]);
    }

    [Theory]
    [InlineData("\"port\": \"X\"", "\"port\": \"\"", "port")]
    [InlineData("\"port\": \"X\"", "\"port\": \"rtp\"", "listen")]
    [InlineData("\"port\": \"X\"", "\"port\": \"rtp\", \"listen\": \"0.0.0.0:5004\"", "acceptFrom")]
    [InlineData("\"port\": \"X\"", "\"port\": \"rtp:192.0.2.1:65535\"", "port")]
    [InlineData("\"port\": \"X\"", "\"port\": \"rtp:somewhere\"", "port")]
    [InlineData("\"port\": \"X\"", "\"port\": \"X\", \"listen\": \"127.0.0.1:5004\"", "listen")]
    [InlineData("{ \"note\": 36 }", "{ \"note\": 128 }", "note")]
    [InlineData("{ \"note\": 36 }", "{ \"note\": 36, \"controller\": 3 }", "note")]
    [InlineData("{ \"note\": 36 }", "{ \"controller\": 123 }", "controller")]
    [InlineData("{ \"note\": 36 }", "{ \"note\": 36, \"channel\": 17 }", "channel")]
    [InlineData("{ \"note\": 36 }", "{ \"note\": 36 }, { \"note\": 36 }", "two meanings")]
    [InlineData("{ \"note\": 36 }", "{ \"note\": 36 }, { \"note\": 37, \"lamp\": { \"note\": 36 } }", "lamp")]
    [InlineData("\"confirm\": [{ \"note\": 36 }]", "\"decline\": [{ \"note\": 36 }]", "decline")]
    [InlineData("\"confirm\": [{ \"note\": 36 }]", "\"patch\": {}", "no key")]
    [InlineData("\"confirm\": [{ \"note\": 36 }]", "\"patch\": { \"0\": { \"note\": 36 } }", "patch")]
    [InlineData("\"confirm\"", "\"lamps\": { \"page\": 127 }, \"confirm\"", "ready")]
    [InlineData("\"confirm\"", "\"lamps\": { \"off\": 128 }, \"confirm\"", "lamp")]
    [InlineData("\"midi\"", "\"slots\": 2, \"midi\"", "slots")]
    [InlineData("\"midi\"", "\"osc\": { \"listen\": \"127.0.0.1:9100\", \"feedback\": \"127.0.0.1:9101\" }, \"midi\"", "either")]
    public void A_MIDI_surface_that_cannot_be_used_is_refused_by_name(string part, string instead, string named)
    {
        const string GoodMidi = """{ "name": "p", "desk": "d", "role": "room", "midi": { "port": "X", "confirm": [{ "note": 36 }] } }""";
        Assert.Single(Read($$"""{ "desks": ["a.toml"], "surfaces": [{{GoodMidi}}] }"""));
        var text = GoodMidi.Replace(part, instead, StringComparison.Ordinal);
        Assert.NotEqual(GoodMidi, text);
        Assert.Contains(named, Assert.Throws<UsageException>(() => Read($$"""{ "desks": ["a.toml"], "surfaces": [{{text}}] }""")).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_address_in_the_document_is_a_press_or_stands_in_a_picture()
    {
        var face = new OscFace(slots: 1, inputs: 1);
        var shown = new HashSet<string>(StringComparer.Ordinal);
        var picture = new OscPacketReader(OscFace.Write(new([new(SlotState.Empty, "", "")], new(SlotState.Empty, "", ""), []), "live", ""));
        while (picture.TryReadMessage(out var message))
            shown.Add(OscMessage.From(message).Address);

        var named = Address().Matches(Document()).Select(match => match.Groups["address"].Value).ToList();
        Assert.All(named, address => Assert.True(shown.Contains(address) || face.Read(new OscMessage(address).Encode()) is not null, address));
        Assert.True(named.Count >= 11, "the tables are there");
    }

    [Theory]
    [InlineData("\"role\": \"room\"", "\"role\": \"chief\"", "role")]
    [InlineData("\"role\": \"room\",", "", "role")]
    [InlineData("\"desk\": \"d\",", "", "desk")]
    [InlineData("127.0.0.1:9100", "127.0.0.1", "listen")]
    [InlineData("127.0.0.1:9101", "nowhere", "feedback")]
    [InlineData("127.0.0.1:9100", "0.0.0.0:9100", "acceptFrom")]
    [InlineData("\"desk\"", "\"slots\": 99, \"desk\"", "slots")]
    [InlineData("\"desk\"", "\"inputs\": [0], \"desk\"", "inputs")]
    [InlineData("\"desk\"", "\"colour\": 1, \"desk\"", "surfaces.md")]
    public void What_cannot_be_used_is_refused_by_name(string part, string instead, string named)
    {
        var text = Good.Replace(part, instead, StringComparison.Ordinal);
        Assert.NotEqual(Good, text);
        Assert.Contains(named, Assert.Throws<UsageException>(() => Read($$"""{ "desks": ["a.toml"], "surfaces": [{{text}}] }""")).Message, StringComparison.Ordinal);
    }

    private static IReadOnlyList<SurfaceOptions> Read(string text)
    {
        using var folder = new TemporaryFolder();
        var file = Path.Combine(folder.Path, "settings.json");
        File.WriteAllText(file, text);
        return ServeSettings.Read(new(file, null, null, null), _ => null).Surfaces;
    }

    private static string Document()
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "TrimAssist.sln")))
            folder = Path.GetDirectoryName(folder) ?? throw new InvalidOperationException("The tests do not run inside the source tree.");
        return File.ReadAllText(Path.Combine(folder, "docs", "surfaces.md"));
    }

    [GeneratedRegex("```json\n(?<json>.*?)```", RegexOptions.Singleline | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Example();

    [GeneratedRegex("`(?<address>/trimassist/[a-z0-9/]+)`", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Address();
}
