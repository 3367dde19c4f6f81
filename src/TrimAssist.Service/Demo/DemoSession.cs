using TrimAssist.DemoDesk;
using TrimAssist.Desk.Profiles;
using TrimAssist.Desk.Profiles.Reading;
using TrimAssist.Service.Failures;
using TrimAssist.Service.Hosting;

namespace TrimAssist.Service.Demo;

/// <summary>The demo desk and the service side by side. They know each other only through datagrams and the profile.</summary>
internal sealed class DemoSession : IAsyncDisposable
{
    /// <summary>The festival is the same every time.</summary>
    private const ulong Seed = 20260725;

    private readonly DirectoryInfo _data;

    private DemoSession(BuiltInDesk desk, RunningService service, DirectoryInfo data)
    {
        Desk = desk;
        Service = service;
        _data = data;
    }

    public BuiltInDesk Desk { get; }

    /// <summary>Where the journal of this run lives.</summary>
    public string DataFolder => _data.FullName;

    public RunningService Service { get; }

    /// <summary>Starts both. The journal lives in a folder of its own that is thrown away afterwards.</summary>
    public static async Task<DemoSession> StartAsync(IReadOnlyList<string> acts, string urls, TimeProvider time, CancellationToken cancellationToken)
    {
        var desk = new BuiltInDesk(Seed, time);
        var data = Directory.CreateTempSubdirectory("trimassist-demo-");
        try
        {
            var profile = Profile(desk);
            var options = new ServeOptions { Profiles = [], DataFolder = data.FullName, Urls = urls, InputLists = acts, Time = time };
            return new DemoSession(desk, await RunningService.StartAsync(options, [profile], cancellationToken), data);
        }
        catch
        {
            desk.Dispose();
            data.Delete(recursive: true);
            throw;
        }
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await Service.DisposeAsync();
        Desk.Dispose();
        _data.Delete(recursive: true);
    }

    private static DeskProfile Profile(BuiltInDesk desk)
    {
        var reading = ProfileReader.ReadFile(Path.Combine(AppContext.BaseDirectory, "config", "demo-desk.toml"));
        if (reading.Profile is not { } profile)
            throw new WorkFailedException($"The demo desk's profile cannot be read: {reading.Errors[0]}");
        return profile with
        {
            Connection = profile.Connection with { Desk = new HostAndPort(desk.EndPoint.Address.ToString(), desk.EndPoint.Port) },
        };
    }
}
