using TrimAssist.Service.Failures;
using TrimAssist.Service.Hosting;
using TrimAssist.Service.Tests.Journal;
using Xunit;

namespace TrimAssist.Service.Tests.Settings;

public sealed class ServeSettingsTests
{
    private static readonly ServeSettings.Said Nothing = new(null, null, null, null);

    [Fact]
    public void The_command_line_goes_before_the_environment_and_the_environment_before_the_file()
    {
        using var folder = new TemporaryFolder();
        var file = File(folder, """{ "desks": ["from-file.toml"], "data": "data", "urls": "http://127.0.0.1:1" }""");

        var fromFile = ServeSettings.Read(Nothing with { File = file }, Environment());
        var fromEnvironment = ServeSettings.Read(Nothing with { File = file }, Environment(("TRIMASSIST_DESKS", "a.toml; b.toml"), ("TRIMASSIST_URLS", "http://127.0.0.1:2")));
        var fromLine = ServeSettings.Read(new(file, ["line.toml"], "line", "http://127.0.0.1:3"), Environment(("TRIMASSIST_DESKS", "a.toml"), ("TRIMASSIST_DATA", "e")));

        Assert.Equal([Path.Combine(folder.Path, "from-file.toml")], fromFile.Profiles);
        Assert.Equal((Path.Combine(folder.Path, "data"), "http://127.0.0.1:1"), (fromFile.DataFolder, fromFile.Urls));
        Assert.Equal(["a.toml", "b.toml"], fromEnvironment.Profiles);
        Assert.Equal((Path.Combine(folder.Path, "data"), "http://127.0.0.1:2"), (fromEnvironment.DataFolder, fromEnvironment.Urls));
        Assert.Equal(["line.toml"], fromLine.Profiles);
        Assert.Equal(("line", "http://127.0.0.1:3"), (fromLine.DataFolder, fromLine.Urls));
    }

    [Fact]
    public void The_file_itself_may_be_named_by_the_environment()
    {
        using var folder = new TemporaryFolder();
        var file = File(folder, """{ "desks": ["desk.toml"] }""");

        Assert.Equal([Path.Combine(folder.Path, "desk.toml")], ServeSettings.Read(Nothing, Environment(("TRIMASSIST_CONFIG", file))).Profiles);
    }

    [Fact]
    public void A_rehearsal_room_is_one_where_the_command_line_or_the_file_says_so()
    {
        using var folder = new TemporaryFolder();
        var desk = Nothing with { Desks = ["desk.toml"] };

        Assert.Null(ServeSettings.Read(desk, Environment()).Room);
        Assert.NotNull(ServeSettings.Read(desk with { Room = new(true) }, Environment()).Room);
        Assert.NotNull(ServeSettings.Read(desk with { File = File(folder, """{ "room": true }""") }, Environment()).Room);
        Assert.Null(ServeSettings.Read(desk with { File = File(folder, """{ "room": false }""") }, Environment()).Room);
    }

    [Fact]
    public void A_rooms_times_and_its_limit_come_from_the_command_line_or_the_file_and_the_limit_can_only_be_made_tighter()
    {
        using var folder = new TemporaryFolder();
        var file = File(folder, """{ "desks": ["desk.toml"], "room": { "checksAt": ["18:30", "9:05"], "mostRiseDb": 6 } }""");

        var room = ServeSettings.Read(Nothing with { File = file }, Environment()).Room!;
        Assert.Equal([new TimeOnly(18, 30), new TimeOnly(9, 5)], room.ChecksAt);
        Assert.Equal(6, room.MostRiseDb);
        room = ServeSettings.Read(Nothing with { File = file, Room = new(false, ["20:00"], 9) }, Environment()).Room!;
        Assert.Equal([new TimeOnly(20, 0)], room.ChecksAt);
        Assert.Equal(6, room.MostRiseDb);

        var desk = Nothing with { Desks = ["desk.toml"] };
        Assert.Throws<UsageException>(() => ServeSettings.Read(desk with { Room = new(true, null, 15) }, Environment()));
        Assert.Throws<UsageException>(() => ServeSettings.Read(desk with { Room = new(true, ["half past six"]) }, Environment()));
        Assert.Throws<UsageException>(() => ServeSettings.Read(desk with { Room = new(false, ["18:30"]) }, Environment()));
        Assert.Throws<UsageException>(() => ServeSettings.Read(desk with { File = File(folder, """{ "room": { "loud": true } }""") }, Environment()));
    }

    [Fact]
    public void A_log_file_is_found_as_seen_from_the_settings_file_and_one_that_cannot_be_written_is_refused_at_once()
    {
        using var folder = new TemporaryFolder();
        var file = File(folder, """{ "desks": ["desk.toml"], "log": "night.log" }""");

        Assert.Equal(Path.Combine(folder.Path, "night.log"), ServeSettings.Read(Nothing with { File = file }, Environment()).LogFile);
        Assert.Null(ServeSettings.Read(Nothing with { Desks = ["desk.toml"] }, Environment()).LogFile);
        Assert.Contains(
            "nowhere",
            Assert.Throws<UsageException>(() => ServeSettings.Read(Nothing with { File = file, Log = Path.Combine(folder.Path, "nowhere", "night.log") }, Environment())).Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void Where_events_go_is_read_from_the_environment_before_the_file_and_secrets_stay_out_of_sight()
    {
        using var folder = new TemporaryFolder();
        var file = File(folder, """{ "desks": ["a.toml"], "webhook": { "url": "http://one/", "secret": "a long enough secret" }, "mqtt": { "server": "mqtts://broker", "user": "u", "password": "from the file", "topic": "hall/3" } }""");

        var options = ServeSettings.Read(Nothing with { File = file }, Environment(("TRIMASSIST_WEBHOOK_URL", "https://two/"), ("TRIMASSIST_MQTT_PASSWORD", "from outside")));

        Assert.Equal("https://two/", options.Webhook!.Url.ToString());
        Assert.Equal(("broker", 8883, true, "from outside", "hall/3"), (options.Mqtt!.Host, options.Mqtt.Port, options.Mqtt.Tls, options.Mqtt.Password, options.Mqtt.Topic));
        Assert.DoesNotContain("outside", options.ToString(), StringComparison.Ordinal);
        Assert.Null(ServeSettings.Read(new(null, ["a.toml"], null, null), Environment()).Webhook);
    }

    [Theory]
    [InlineData("TRIMASSIST_WEBHOOK_URL", "http://x/", "secret")]
    [InlineData("TRIMASSIST_MQTT_SERVER", "http://x/", "mqtt://HOST")]
    [InlineData("TRIMASSIST_MQTT_SERVER", "mqtt://u:hidden@x", "settings of their own")]
    public void A_receiver_that_cannot_be_used_ends_the_start_with_one_sentence(string variable, string value, string text)
    {
        var told = Assert.Throws<UsageException>(() => ServeSettings.Read(new(null, ["a.toml"], null, null), Environment((variable, value)))).Message;

        Assert.Contains(text, told, StringComparison.Ordinal);
        Assert.DoesNotContain("hidden", told, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("""{ "desk": ["a.toml"] }""", "line 1")]
    [InlineData("{\n \"desks\": [\"a.toml\"],\n \"urls\": 5 }", "line 3")]
    [InlineData("""{ "desks": ["a.toml"], "urls": "nowhere" }""", "nowhere")]
    [InlineData("{}", "--desk")]
    public void A_wrong_file_is_refused_before_anything_starts(string text, string names)
    {
        using var folder = new TemporaryFolder();

        var refused = Assert.Throws<UsageException>(() => ServeSettings.Read(Nothing with { File = File(folder, text) }, Environment()));

        Assert.Contains(names, refused.Message);
    }

    [Fact]
    public void A_file_that_is_not_there_is_refused() =>
        Assert.Throws<UsageException>(() => ServeSettings.Read(Nothing with { File = "/not/there.json" }, Environment()));

    private static Func<string, string?> Environment(params (string Name, string Value)[] variables) =>
        name => variables.FirstOrDefault(variable => variable.Name == name).Value;

    private static string File(TemporaryFolder folder, string text)
    {
        var file = Path.Combine(folder.Path, "trimassist.json");
        System.IO.File.WriteAllText(file, text);
        return file;
    }
}
