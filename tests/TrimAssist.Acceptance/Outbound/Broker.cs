using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using TrimAssist.Acceptance.Running;

namespace TrimAssist.Acceptance.Outbound;

/// <summary>A real broker in a process of its own: with a password, over TLS, with a certificate that it made itself.</summary>
internal sealed class Broker : IAsyncDisposable
{
    public const string User = "hall";
    public const string Password = "over the hills";

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("trimassist-broker-");
    // Bound and never listening, so that nobody else is given the port while the broker is away.
    private readonly Socket _held = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
    private readonly int _port;
    private TheProgram? _program;

    public Broker()
    {
        _held.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        _port = ((IPEndPoint)_held.LocalEndPoint!).Port;
        WriteCertificate();
        Put("users", "");
        Put("broker.conf", $"""
            user root
            listener {_port} 127.0.0.1
            allow_anonymous false
            password_file {In("users")}
            certfile {Certificate}
            keyfile {In("key.pem")}
            """);
    }

    public static bool IsInstalled => TheProgram.IsInstalled("mosquitto") && TheProgram.IsInstalled("mosquitto_passwd") && TheProgram.IsInstalled("mosquitto_sub");

    public string Server => $"mqtts://127.0.0.1:{_port}";

    /// <summary>The certificate to trust.</summary>
    public string Certificate => In("broker.pem");

    public async Task StartAsync()
    {
        await using (var making = TheProgram.Other("mosquitto_passwd", "-b", In("users"), User, Password))
            await making.EndAsync(TimeSpan.FromSeconds(30));
        _program = TheProgram.Other("mosquitto", "-c", In("broker.conf"));
        await TheProgram.EventuallyAsync(IsListeningAsync, TimeSpan.FromSeconds(30), () => string.Join('\n', _program.Errors));
    }

    /// <summary>The broker falls, and forgets what it kept.</summary>
    public Task KillAsync() => _program?.KillAsync() ?? Task.CompletedTask;

    /// <summary>Waits until the broker's log has so many lines with a certain text.</summary>
    public Task LogsAsync(string text, int lines) => TheProgram.EventuallyAsync(
        () => Task.FromResult(Logged(text) >= lines), TimeSpan.FromSeconds(60), () => $"never logged {text}, but {string.Join('\n', _program!.Errors)}");

    /// <summary>How many lines of the broker's log have a certain text.</summary>
    public int Logged(string text) => _program!.Errors.Count(line => line.Contains(text, StringComparison.Ordinal));

    /// <summary>What another program hears of a topic until one message has a certain beginning: topic and payload of each.</summary>
    public async Task<IReadOnlyList<string>> HearAsync(string topic, string until, params string[] options)
    {
        await using var hearing = TheProgram.Other(
            "mosquitto_sub", ["-h", "127.0.0.1", "-p", $"{_port}", "-u", User, "-P", Password, "--cafile", Certificate, "-t", topic, "-v", "-q", "1", .. options]);
        await TheProgram.EventuallyAsync(
            () => Task.FromResult(hearing.Output.Any(line => line.StartsWith(until, StringComparison.Ordinal))), TimeSpan.FromSeconds(60),
            () => $"heard {string.Join('\n', hearing.Output)}{string.Join('\n', hearing.Errors)}, never {until}");
        return [.. hearing.Output];
    }

    /// <summary>Waits until a message with a certain beginning was told, and whoever comes later is told it as kept.</summary>
    public async Task KeepsAsync(string topic, string beginning)
    {
        await HearAsync(topic, beginning);
        await HearAsync(topic, beginning, "--retained-only");
    }

    public async ValueTask DisposeAsync()
    {
        if (_program is not null)
            await _program.DisposeAsync();
        _held.Dispose();
        _folder.Delete(recursive: true);
    }

    private async Task<bool> IsListeningAsync()
    {
        using var probe = new TcpClient();
        try
        {
            await probe.ConnectAsync(IPAddress.Loopback, _port);
            return true;
        }
        catch (SocketException)
        {
            return false;
        }
    }

    private void WriteCertificate()
    {
        using var key = RSA.Create(2048);
        var request = new CertificateRequest("CN=127.0.0.1", key, HashAlgorithmName.SHA256, RSASignaturePadding.Pkcs1);
        var names = new SubjectAlternativeNameBuilder();
        names.AddIpAddress(IPAddress.Loopback);
        request.CertificateExtensions.Add(names.Build());
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(true, false, 0, true));
        using var certificate = request.CreateSelfSigned(TimeProvider.System.GetUtcNow().AddHours(-1), TimeProvider.System.GetUtcNow().AddDays(1));
        Put("broker.pem", certificate.ExportCertificatePem());
        Put("key.pem", key.ExportPkcs8PrivateKeyPem());
    }

    private string In(string name) => Path.Combine(_folder.FullName, name);

    private void Put(string name, string text) => File.WriteAllText(In(name), text);
}
