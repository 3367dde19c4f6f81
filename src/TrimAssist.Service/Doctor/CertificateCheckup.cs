using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace TrimAssist.Service.Doctor;

/// <summary>Whether the certificate of an https address can be used today and next week. Without https there is nothing to look at.</summary>
/// <param name="file">The certificate's file; <see langword="null"/> where none was named.</param>
/// <param name="key">Its private key's file; <see langword="null"/> where none was named, and then it is not looked at.</param>
/// <param name="time">The clock.</param>
internal sealed class CertificateCheckup(string? file, string? key, TimeProvider time) : ICheckup
{
    private const string Subject = "certificate";
    private const string NewOne = "openssl req -x509 -newkey rsa:2048 -nodes -days 365 -subj /CN=$(hostname) -keyout trimassist.key -out trimassist.pem";
    private static readonly TimeSpan Soon = TimeSpan.FromDays(14);

    /// <inheritdoc/>
    public Task<IReadOnlyList<Diagnosis>> LookAsync(Premises premises, CancellationToken cancellationToken) => Task.FromResult<IReadOnlyList<Diagnosis>>(
        premises.Urls.Any(url => string.Equals(url.Scheme, Uri.UriSchemeHttps, StringComparison.Ordinal)) ? [Look()] : []);

    private Diagnosis Look()
    {
        if (file is null)
            return new(Subject, Verdict.Wrong, "An https address needs a certificate, and none is named.", "trimassist serve --certificate trimassist.pem --certificate-key trimassist.key …");
        try
        {
            using var certificate = key is null ? X509CertificateLoader.LoadCertificateFromFile(file) : X509Certificate2.CreateFromPemFile(file, key);
            var (from, until, now) = (certificate.NotBefore.ToUniversalTime(), certificate.NotAfter.ToUniversalTime(), time.GetUtcNow().UtcDateTime);
            if (now < from)
                return new(Subject, Verdict.Wrong, $"{file} is not valid before {from:yyyy-MM-dd}.", NewOne);
            if (now > until)
                return new(Subject, Verdict.Wrong, $"{file} ended on {until:yyyy-MM-dd}.", NewOne);
            return until - now < Soon
                ? new(Subject, Verdict.Warning, $"{file} ends on {until:yyyy-MM-dd}.", NewOne)
                : new(Subject, Verdict.Good, $"{file} is valid until {until:yyyy-MM-dd}.");
        }
        catch (Exception failed) when (failed is CryptographicException or ArgumentException or IOException or UnauthorizedAccessException)
        {
            return new(Subject, Verdict.Wrong, $"{file}{(key is null ? "" : $" with {key}")} cannot be used: {failed.Message}", NewOne);
        }
    }
}
