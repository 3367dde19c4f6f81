using TrimAssist.Service.Failures;

namespace TrimAssist.Service.Hosting;

/// <summary>Reads where the service is to listen, as a user writes it: one URL, or several with a semicolon between.</summary>
internal static class ListenUrls
{
    /// <summary>The URLs; a host of <c>*</c> or <c>+</c> stands for every address of this machine.</summary>
    /// <exception cref="UsageException">One of them cannot be listened on.</exception>
    public static IReadOnlyList<Uri> Read(string urls)
    {
        var parts = urls.Split(';', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        return parts.Length > 0 ? [.. parts.Select(ReadOne)] : throw Wrong(urls);
    }

    private static Uri ReadOne(string url)
    {
        var spelled = url.Replace("//*", "//0.0.0.0", StringComparison.Ordinal).Replace("//+", "//0.0.0.0", StringComparison.Ordinal);
        return Uri.TryCreate(spelled, UriKind.Absolute, out var read) && read.Scheme is "http" or "https" && read.Host.Length > 0 && read.PathAndQuery is "/"
            ? read
            : throw Wrong(url);
    }

    private static UsageException Wrong(string url) => new($"--urls: \"{url}\" is no address to serve on; write for example {ServeOptions.DefaultUrl}.");
}
