using System.CommandLine;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using TrimAssist.Service.Failures;
using TrimAssist.Service.Hosting;

namespace TrimAssist.Service.Cli;

/// <summary><c>trimassist serve</c>: runs the service for one desk or several.</summary>
internal static class ServeCommand
{
    public static Command Create()
    {
        var desks = new Option<string[]>("--desk") { Description = "A desk profile (TOML); may be given several times." };
        var acts = new Option<string[]>("--act") { Description = "An act's input list (CSV); several in running order. The first act is on, or after a restart the one that was.", Arity = ArgumentArity.OneOrMore };
        var data = new Option<string?>("--data") { Description = "Where the journal lives." };
        var urls = new Option<string?>("--urls") { Description = $"Where to serve the page; {ServeOptions.DefaultUrl} unless told." };
        var config = new Option<string?>("--config") { Description = "A settings file (JSON): desks, data, urls, log, room. The environment's TRIMASSIST_DESKS, _DATA, _URLS, _LOG go before it." };
        var log = new Option<string?>("--log") { Description = "A file that the log is written to as well, kept small by itself." };
        var record = new Option<string?>("--record") { Description = "A new file that the raw link of every desk is recorded into, for replay." };
        var room = new Option<bool>("--room") { Description = "A rehearsal room: checks begin with the first sound after silence and finish by themselves. Nothing is confirmed by itself." };
        var roomChecks = new Option<string[]>("--room-check-at") { Description = "With --room: a time of the day (18:30) at which a check begins too; may be given several times." };
        var roomRise = new Option<double?>("--room-rise") { Description = "With --room: how far a session's band may raise an input by itself, in dB; 12 unless told, never more." };
        var certificate = new Option<string?>("--certificate") { Description = "A certificate (PEM) for https addresses; needs --certificate-key." };
        var key = new Option<string?>("--certificate-key") { Description = "The certificate's private key (PEM)." };
        var command = new Command("serve", "Listens to desks, proposes and warns, and serves the page.") { desks, acts, data, urls, config, log, record, room, roomChecks, roomRise, certificate, key };
        command.SetAction((parsed, cancellationToken) => CommandRunner.RunAsync(async () =>
        {
            var said = new ServeSettings.Said(
                parsed.GetValue(config), parsed.GetValue(desks), parsed.GetValue(data), parsed.GetValue(urls), parsed.GetValue(log),
                new RoomSettings.Said(parsed.GetValue(room), parsed.GetValue(roomChecks), parsed.GetValue(roomRise)));
            var options = ServeSettings.Read(said, Environment.GetEnvironmentVariable) with
            {
                InputLists = parsed.GetValue(acts) ?? [],
                RecordFile = parsed.GetValue(record),
                Certificate = ReadCertificate(parsed.GetValue(certificate), parsed.GetValue(key)),
            };
            await using var running = await RunningService.StartAsync(options, cancellationToken);
            await Console.Error.WriteLineAsync($"The page is at {string.Join(" and ", running.Urls)} - stop with Ctrl+C.");
            await running.WaitAsync(cancellationToken);
            return CommandRunner.Done;
        }));
        return command;
    }

    private static X509Certificate2? ReadCertificate(string? certificate, string? key)
    {
        if (certificate is null && key is null)
            return null;
        if (certificate is null || key is null)
            throw new UsageException("--certificate and --certificate-key go together.");
        try
        {
            return X509Certificate2.CreateFromPemFile(certificate, key);
        }
        catch (Exception wrong) when (wrong is CryptographicException or ArgumentException)
        {
            throw new UsageException($"{certificate} with {key} is no certificate with its key: {wrong.Message}");
        }
    }
}
