using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace TrimAssist.Service.Doctor;

/// <summary>Whether the certificate of an https address can be used today and next week. Without https there is nothing to look at.</summary>
/// <param name="settings">The service's configuration, where the certificate's file is named.</param>
/// <param name="time">The clock.</param>
internal sealed class CertificateCheckup(IConfiguration settings, TimeProvider time) : ICheckup
{
    /// <summary>Where Kestrel is told of the certificate.</summary>
    internal const string PathSetting = "Kestrel:Certificates:Default:Path";

    private const string Subject = "certificate";
    private const string NewOne = "openssl req -x509 -newkey rsa:2048 -nodes -days 365 -subj /CN=$(hostname) -keyout trimassist.key -out trimassist.pem";
    private static readonly TimeSpan Soon = TimeSpan.FromDays(14);

    /// <inheritdoc/>
    public Task<IReadOnlyList<Diagnosis>> LookAsync(Premises premises, CancellationToken cancellationToken) => Task.FromResult<IReadOnlyList<Diagnosis>>(
        premises.Urls.Any(url => string.Equals(url.Scheme, Uri.UriSchemeHttps, StringComparison.Ordinal)) ? [Look()] : []);

    private Diagnosis Look()
    {
        if (settings[PathSetting] is not { Length: > 0 } file)
            return new(Subject, Verdict.Wrong, "An https address needs a certificate, and none is configured.", $"export Kestrel__Certificates__Default__Path=/etc/trimassist/trimassist.pem");
        try
        {
            using var certificate = Load(file, settings["Kestrel:Certificates:Default:Password"]);
            var (from, until, now) = (certificate.NotBefore.ToUniversalTime(), certificate.NotAfter.ToUniversalTime(), time.GetUtcNow().UtcDateTime);
            if (now < from)
                return new(Subject, Verdict.Wrong, $"{file} is not valid before {from:yyyy-MM-dd}.", NewOne);
            if (now > until)
                return new(Subject, Verdict.Wrong, $"{file} ended on {until:yyyy-MM-dd}.", NewOne);
            return until - now < Soon
                ? new(Subject, Verdict.Warning, $"{file} ends on {until:yyyy-MM-dd}.", NewOne)
                : new(Subject, Verdict.Good, $"{file} is valid until {until:yyyy-MM-dd}.");
        }
        catch (Exception failed) when (failed is CryptographicException or IOException or UnauthorizedAccessException)
        {
            return new(Subject, Verdict.Wrong, $"{file} cannot be read: {failed.Message}", NewOne);
        }
    }

    private static X509Certificate2 Load(string file, string? password) => Path.GetExtension(file).ToUpperInvariant() is ".PFX" or ".P12"
        ? X509CertificateLoader.LoadPkcs12FromFile(file, password)
        : X509CertificateLoader.LoadCertificateFromFile(file);
}
