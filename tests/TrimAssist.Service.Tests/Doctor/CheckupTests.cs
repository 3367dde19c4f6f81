using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using TrimAssist.Desk.Midi;
using TrimAssist.Desk.Profiles;
using TrimAssist.Desk.Profiles.Reading;
using TrimAssist.Service.Doctor;
using TrimAssist.Service.Security;
using TrimAssist.Service.Surfaces;
using TrimAssist.Service.Tests.Journal;
using TrimAssist.Service.Tests.JournalLines;
using TrimAssist.TestKit.Network;
using Xunit;

namespace TrimAssist.Service.Tests.Doctor;

public sealed class CheckupTests
{
    private static readonly Uri Page = new("http://127.0.0.1:5188");

    [Fact]
    public async Task A_free_page_port_is_good_and_a_taken_one_names_the_command_that_shows_who_has_it()
    {
        using var taken = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        taken.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        taken.Listen();
        var port = ((IPEndPoint)taken.LocalEndPoint!).Port;

        var wrong = Assert.Single(await LookAsync(new PagePortCheckup(), url: new Uri($"http://127.0.0.1:{port}")));
        taken.Close();
        var good = Assert.Single(await LookAsync(new PagePortCheckup(), url: new Uri($"http://127.0.0.1:{port}")));

        Assert.Equal(Verdict.Wrong, wrong.Verdict);
        Assert.Contains($":{port}", wrong.Mend);
        Assert.Equal(Verdict.Good, good.Verdict);
        Assert.Null(good.Mend);
    }

    [Fact]
    public async Task A_page_for_the_whole_network_is_a_warning() =>
        Assert.Equal(Verdict.Warning, Assert.Single(await LookAsync(new PagePortCheckup(), url: new Uri("http://0.0.0.0:0"))).Verdict);

    [Fact]
    public async Task A_taken_desk_port_is_wrong()
    {
        using var taken = new Socket(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp);
        taken.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        var port = ((IPEndPoint)taken.LocalEndPoint!).Port;

        var found = Assert.Single(await LookAsync(new DeskPortCheckup(), Desk(port)));

        Assert.Equal(Verdict.Wrong, found.Verdict);
        Assert.Contains($":{port}", found.Mend);
    }

    [Theory]
    [InlineData(8 * 1024 * 1024, nameof(Verdict.Good))]
    [InlineData(425_984, nameof(Verdict.Warning))]
    public void A_small_receive_buffer_is_a_warning_with_the_command_that_raises_it(int granted, string verdict)
    {
        var found = DeskPortCheckup.Room("buffer", granted);

        Assert.Equal(verdict, found.Verdict.ToString());
        Assert.Equal(found.Verdict == Verdict.Good || !OperatingSystem.IsLinux(), found.Mend is null);
    }

    [Theory]
    [InlineData(50, nameof(Verdict.Wrong))]
    [InlineData(500, nameof(Verdict.Warning))]
    [InlineData(5000, nameof(Verdict.Good))]
    public async Task A_full_disk_is_told_before_the_show(long freeMiB, string verdict)
    {
        using var folder = new TemporaryFolder();

        var found = Assert.Single(await LookAsync(new DiskCheckup(_ => freeMiB << 20), data: Path.Combine(folder.Path, "not", "yet", "there")));

        Assert.Equal(verdict, found.Verdict.ToString());
        Assert.Empty(Directory.EnumerateFileSystemEntries(folder.Path));
    }

    [Fact]
    public async Task A_data_folder_that_is_a_file_is_wrong()
    {
        using var folder = new TemporaryFolder();
        var file = Path.Combine(folder.Path, "file");
        await File.WriteAllTextAsync(file, "no folder", TestContext.Current.CancellationToken);

        var found = Assert.Single(await LookAsync(new DiskCheckup(_ => long.MaxValue), data: Path.Combine(file, "data")));

        Assert.Equal(Verdict.Wrong, found.Verdict);
    }

    [Fact]
    public async Task A_journal_with_a_line_that_cannot_be_read_is_a_warning_with_the_command_that_names_it()
    {
        using var folder = new TemporaryFolder();
        Assert.Empty(await LookAsync(new JournalCheckup(), data: folder.Path));
        await OddJournal.WriteAsync(folder.Path, new Evening("Paper Lanterns", "Ada Fairweather", Facts.Evening).Lines());
        Assert.Equal(new("journal", Verdict.Good, "The journal is whole: 9 lines."), Assert.Single(await LookAsync(new JournalCheckup(), data: folder.Path)));

        await OddJournal.WriteAsync(folder.Path, [Damage.Entry("show", "{}", Facts.Evening)]);
        var found = Assert.Single(await LookAsync(new JournalCheckup(), data: folder.Path));

        Assert.Equal((Verdict.Warning, $"trimassist journal check --data {folder.Path}"), (found.Verdict, found.Mend));
        Assert.StartsWith("1 of 10 lines cannot be read", found.Says, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("torn")]
    [InlineData("newer")]
    [InlineData("no journal")]
    public async Task A_journal_that_no_service_could_start_with_is_wrong_before_the_show(string how)
    {
        using var folder = new TemporaryFolder();
        await OddJournal.WriteAsync(folder.Path, Enumerable.Range(1, 2000).Select(number => Facts.Numbered(number)));
        if (how == "torn")
            OddJournal.TearPages(folder.Path);
        else if (how == "newer")
            OddJournal.MakeNewer(folder.Path);
        else
            await File.WriteAllTextAsync(Path.Combine(folder.Path, "journal.db"), string.Concat(Enumerable.Repeat("a shopping list ", 400)), TestContext.Current.CancellationToken);

        var found = Assert.Single(await LookAsync(new JournalCheckup(), data: folder.Path));

        Assert.Equal(Verdict.Wrong, found.Verdict);
        Assert.Contains(how == "newer" ? "the newer program" : $"mv {folder.Path}/journal.db*", found.Mend, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(true, nameof(Verdict.Good))]
    [InlineData(false, nameof(Verdict.Warning))]
    [InlineData(null, nameof(Verdict.Good))]
    public async Task A_clock_that_nobody_keeps_right_is_a_warning(bool? synchronised, string verdict) =>
        Assert.Equal(verdict, Assert.Single(await LookAsync(new ClockCheckup(() => synchronised, TimeProvider.System))).Verdict.ToString());

    [Fact]
    public async Task A_clock_before_the_program_itself_is_wrong() => Assert.Equal(
        Verdict.Wrong, Assert.Single(await LookAsync(new ClockCheckup(() => true, new At(new DateTimeOffset(2001, 1, 1, 0, 0, 0, TimeSpan.Zero))))).Verdict);

    [Theory]
    [InlineData(-30, 300, nameof(Verdict.Good))]
    [InlineData(-30, 3, nameof(Verdict.Warning))]
    [InlineData(-30, -1, nameof(Verdict.Wrong))]
    [InlineData(2, 300, nameof(Verdict.Wrong))]
    public async Task A_certificate_is_looked_at_for_its_days(int fromDay, int untilDay, string verdict)
    {
        using var folder = new TemporaryFolder();
        var file = Path.Combine(folder.Path, "page.pem");
        var now = TimeProvider.System.GetUtcNow();
        using var key = ECDsa.Create();
        using (var made = new CertificateRequest("CN=stage", key, HashAlgorithmName.SHA256).CreateSelfSigned(now.AddDays(fromDay), now.AddDays(untilDay)))
            await File.WriteAllTextAsync(file, made.ExportCertificatePem(), TestContext.Current.CancellationToken);

        var found = Assert.Single(await LookAsync(Certificate(file), url: new Uri("https://127.0.0.1:5188")));

        Assert.Equal(verdict, found.Verdict.ToString());
    }

    [Fact]
    public async Task An_https_page_without_a_certificate_is_wrong_and_an_http_page_needs_none()
    {
        Assert.Equal(Verdict.Wrong, Assert.Single(await LookAsync(Certificate(null), url: new Uri("https://127.0.0.1:5188"))).Verdict);
        Assert.Equal(Verdict.Wrong, Assert.Single(await LookAsync(Certificate("/not/there.pem"), url: new Uri("https://127.0.0.1:5188"))).Verdict);
        Assert.Empty(await LookAsync(Certificate(null), url: Page));
    }

    [Fact]
    public async Task A_certificate_with_a_key_that_is_not_its_own_is_wrong()
    {
        using var folder = new TemporaryFolder();
        var now = TimeProvider.System.GetUtcNow();
        using var own = ECDsa.Create();
        using var other = ECDsa.Create();
        using (var made = new CertificateRequest("CN=stage", own, HashAlgorithmName.SHA256).CreateSelfSigned(now.AddDays(-1), now.AddDays(300)))
            await File.WriteAllTextAsync(folder.File("page.pem"), made.ExportCertificatePem(), TestContext.Current.CancellationToken);
        await File.WriteAllTextAsync(folder.File("own.key"), own.ExportPkcs8PrivateKeyPem(), TestContext.Current.CancellationToken);
        await File.WriteAllTextAsync(folder.File("other.key"), other.ExportPkcs8PrivateKeyPem(), TestContext.Current.CancellationToken);
        async Task<Verdict> WithAsync(string key) => Assert.Single(await LookAsync(Certificate(folder.File("page.pem"), folder.File(key)), url: new Uri("https://127.0.0.1:5188"))).Verdict;

        Assert.Equal((Verdict.Good, Verdict.Wrong, Verdict.Wrong), (await WithAsync("own.key"), await WithAsync("other.key"), await WithAsync("no.key")));
    }

    [Theory]
    [InlineData("osc")]
    [InlineData("midi")]
    public async Task A_surface_whose_port_is_taken_is_wrong_and_a_free_one_is_good(string speaks)
    {
        SurfaceOptions On(IPEndPoint listen) => Surface(speaks == "osc"
            ? new OscPlace(listen, listen, [])
            : new MidiPlace(null, null, listen, [], new MidiKeys(new Dictionary<MidiKey, Press>(), new Dictionary<Press, MidiKey>(), new LampValues(0, 1, 126, 64))));
        var free = new IPEndPoint(IPAddress.Loopback, FreePort.FindPair());
        using var taken = Taken(out var at);

        var wrong = Assert.Single(await LookAsync(new SurfaceCheckup(TimeProvider.System), Desk(9), surface: On(at)));

        Assert.Equal(Verdict.Wrong, wrong.Verdict);
        Assert.Contains($":{at.Port}", wrong.Mend, StringComparison.Ordinal);
        Assert.Equal(Verdict.Good, Assert.Single(await LookAsync(new SurfaceCheckup(TimeProvider.System), Desk(9), surface: On(free))).Verdict);
    }

    [Fact]
    public async Task A_surface_of_a_desk_that_is_not_there_or_on_a_port_that_is_not_plugged_in_is_told()
    {
        var keys = new MidiKeys(new Dictionary<MidiKey, Press>(), new Dictionary<Press, MidiKey>(), new LampValues(0, 1, 126, 64));
        var place = new MidiPlace("a port that nobody has", null, null, [], keys);

        var lost = Assert.Single(await LookAsync(new SurfaceCheckup(TimeProvider.System), Desk(9), surface: Surface(place, desk: "elsewhere")));
        var unplugged = Assert.Single(await LookAsync(new SurfaceCheckup(TimeProvider.System), Desk(9), surface: Surface(place)));

        Assert.Equal(Verdict.Wrong, lost.Verdict);
        Assert.Contains("elsewhere", lost.Says, StringComparison.Ordinal);
        // Pads are plugged in when somebody needs them; without the library that would not help.
        Assert.Equal(MidiPorts.HasSystemPorts ? Verdict.Warning : Verdict.Wrong, unplugged.Verdict);
        Assert.NotNull(unplugged.Mend);
    }

    [Fact]
    public async Task A_silent_desk_is_wrong_and_a_sending_one_is_good()
    {
        using var sender = new Socket(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp);
        var port = FreePort.Find(ProtocolType.Udp);

        var silent = Assert.Single(await LookAsync(new DeskReachCheckup(TimeSpan.FromMilliseconds(200), TimeProvider.System), Desk(port)));
        var looking = LookAsync(new DeskReachCheckup(TimeSpan.FromSeconds(20), TimeProvider.System), Desk(port));
        using var timer = new PeriodicTimer(TimeSpan.FromMilliseconds(20), TimeProvider.System);
        while (!looking.IsCompleted && await timer.WaitForNextTickAsync(TestContext.Current.CancellationToken))
            sender.SendTo(Level, new IPEndPoint(IPAddress.Loopback, port));

        Assert.Equal(Verdict.Wrong, silent.Verdict);
        Assert.Contains("127.0.0.1", silent.Mend);
        Assert.Equal(Verdict.Good, Assert.Single(await looking).Verdict);
    }

    [Fact]
    public void What_was_found_is_written_with_the_command_under_it()
    {
        using var text = new StringWriter();

        Examination.Write([new("disk", Verdict.Good, "Room enough."), new("page port", Verdict.Wrong, "Taken.", "ss -l")], text);

        Assert.Equal(
            ["good     disk       Room enough.", "wrong    page port  Taken.", "                    mend: ss -l"],
            text.ToString().Split(Environment.NewLine, StringSplitOptions.RemoveEmptyEntries));
    }

    // /lv/1 ,f -40
    private static byte[] Level => [(byte)'/', (byte)'l', (byte)'v', (byte)'/', (byte)'1', 0, 0, 0, (byte)',', (byte)'f', 0, 0, 0xC2, 0x20, 0, 0];

    private static Task<IReadOnlyList<Diagnosis>> LookAsync(ICheckup checkup, DeskProfile? desk = null, string? data = null, Uri? url = null, SurfaceOptions? surface = null) =>
        checkup.LookAsync(new Premises(desk is null ? [] : [desk], data ?? ".", [url ?? Page], surface is null ? [] : [surface]), TestContext.Current.CancellationToken);

    private static CertificateCheckup Certificate(string? file, string? key = null) => new(file, key, TimeProvider.System);

    private static SurfaceOptions Surface(SurfacePlace place, string desk = "patient") => new("pads", desk, 4, Role.Room, null, place);

    private static Socket Taken(out IPEndPoint at)
    {
        var taken = new Socket(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp);
        taken.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        at = (IPEndPoint)taken.LocalEndPoint!;
        return taken;
    }

    private static DeskProfile Desk(int port) => ProfileReader.Read(
        $$"""
        id = "patient"
        inputs = 1
        [connection]
        transport = "udp"
        desk = "127.0.0.1:9"
        listen = "127.0.0.1:{{port}}"
        [[meters]]
        address = "/lv/{input}"
        quantity = "peak"
        unit = "dbfs"
        frame_ms = 20
        tap = "converter"
        follows_mute = false
        """,
        "patient.toml").Profile!;

    private sealed class At(DateTimeOffset now) : TimeProvider
    {
        public override DateTimeOffset GetUtcNow() => now;
    }
}
