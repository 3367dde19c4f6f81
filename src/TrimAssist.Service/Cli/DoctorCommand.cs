using System.CommandLine;
using TrimAssist.Service.Doctor;
using TrimAssist.Service.Hosting;

namespace TrimAssist.Service.Cli;

/// <summary><c>trimassist doctor</c>: what on this machine would spoil a show, and the command that mends it.</summary>
internal static class DoctorCommand
{
    public static Command Create()
    {
        var desks = new Option<string[]>("--desk") { Description = "A desk profile (TOML); may be given several times." };
        var data = new Option<string?>("--data") { Description = "Where the journal lives." };
        var urls = new Option<string?>("--urls") { Description = "Where the page is to be served." };
        var config = new Option<string?>("--config") { Description = "The settings file (JSON) that serve is to be given. The environment counts as for serve." };
        var certificate = new Option<string?>("--certificate") { Description = "The certificate (PEM) of an https page." };
        var key = new Option<string?>("--certificate-key") { Description = "The certificate's private key (PEM)." };
        var patience = new Option<double>("--listen-s") { Description = "How long to listen for each desk's meters.", DefaultValueFactory = _ => 3 };
        var json = new Option<bool>("--json") { Description = "One JSON document." };
        var command = new Command("doctor", "Says what on this machine would spoil a show, and the command that mends it. Changes nothing.") { desks, data, urls, config, certificate, key, patience, json };
        command.SetAction((parsed, cancellationToken) => CommandRunner.RunAsync(async () =>
        {
            var options = ServeSettings.Gather(
                new(parsed.GetValue(config), parsed.GetValue(desks), parsed.GetValue(data), parsed.GetValue(urls)), Environment.GetEnvironmentVariable);
            var premises = new Premises(ProfileFiles.Read(options.Profiles), options.DataFolder, ListenUrls.Read(options.Urls), options.Surfaces);
            var found = await Examination.RunAsync(
                Examination.All(parsed.GetValue(certificate), parsed.GetValue(key), TimeSpan.FromSeconds(parsed.GetValue(patience)), TimeProvider.System), premises, cancellationToken);
            if (parsed.GetValue(json))
                Examination.WriteJson(found, Console.Out);
            else
                Examination.Write(found, Console.Out);
            return found.Any(one => one.Verdict == Verdict.Wrong) ? CommandRunner.Failed : CommandRunner.Done;
        }));
        return command;
    }
}
