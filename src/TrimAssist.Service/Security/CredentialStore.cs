using System.Collections.Concurrent;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using TrimAssist.Service.Failures;

namespace TrimAssist.Service.Security;

/// <summary>The credentials, kept in one file of the data folder that only its owner can read.</summary>
internal sealed class CredentialStore
{
    /// <summary>How many credentials there may be.</summary>
    public const int Bound = 64;

    private const int TokenBytes = 32;

    private readonly Lock _guard = new();
    private readonly ConcurrentDictionary<Guid, CancellationTokenSource> _revoked = new();
    private readonly string _file;
    private Credential[] _all;

    /// <summary>Reads the credentials of a data folder; none where there is no file.</summary>
    /// <exception cref="WorkFailedException">The file cannot be read.</exception>
    public CredentialStore(string folder)
    {
        _file = Path.Combine(folder, "credentials.json");
        try
        {
            _all = File.Exists(_file) ? JsonSerializer.Deserialize<Credential[]>(File.ReadAllText(_file), Form) ?? [] : [];
        }
        catch (Exception unreadable) when (unreadable is JsonException or IOException or UnauthorizedAccessException)
        {
            throw new WorkFailedException($"The credentials {_file} cannot be read: {unreadable.Message} Move the file aside to pair anew.");
        }
    }

    /// <summary>Every credential.</summary>
    public IReadOnlyList<Credential> All => Volatile.Read(ref _all);

    private static JsonSerializerOptions Form { get; } = new(JsonSerializerDefaults.Web)
    {
        WriteIndented = true,
        Converters = { new System.Text.Json.Serialization.JsonStringEnumConverter(JsonNamingPolicy.KebabCaseLower) },
    };

    /// <summary>Makes a credential.</summary>
    /// <returns>It, and its token, which is nowhere kept; <see langword="null"/> when there are too many.</returns>
    /// <exception cref="IOException">It cannot be written down; then it does not exist.</exception>
    public (Credential Credential, string Token)? Make(string name, Role role, IReadOnlyList<int>? inputs, DateTimeOffset now, string? desk = null)
    {
        var token = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(TokenBytes));
        var credential = new Credential(Guid.CreateVersion7(now), name, role, inputs, Hash(token), now, desk);
        lock (_guard)
        {
            if (_all.Length >= Bound)
                return null;
            Write([.. _all, credential]);
        }

        return (credential, token);
    }

    /// <summary>Whose token this is; <see langword="null"/> for nobody's.</summary>
    public Credential? Find(string token)
    {
        if (token.Length != 2 * TokenBytes)
            return null;
        var hash = Encoding.ASCII.GetBytes(Hash(token));
        return Array.Find(Volatile.Read(ref _all), one => CryptographicOperations.FixedTimeEquals(Encoding.ASCII.GetBytes(one.TokenHash), hash));
    }

    /// <summary>Takes a credential back; from now on its token is nobody's.</summary>
    /// <exception cref="IOException">It is cut off, and that could not be written down: after a restart it is let in again.</exception>
    public bool Revoke(Guid id)
    {
        lock (_guard)
        {
            if (!Array.Exists(_all, one => one.Id == id))
                return false;
            // Whoever holds it is cut off even where the disk is full.
            Volatile.Write(ref _all, [.. _all.Where(one => one.Id != id)]);
        }

        if (_revoked.TryRemove(id, out var cut))
            cut.Cancel();
        lock (_guard)
            Write(_all);
        return true;
    }

    /// <summary>Cancelled when this credential is taken back: what its owner began (an event stream, a page) must not outlive it.</summary>
    public CancellationToken Revoked(Credential credential)
    {
        var token = _revoked.GetOrAdd(credential.Id, static _ => new CancellationTokenSource()).Token;
        // Taken back between being found and being followed: nobody is left who would cancel it.
        return Array.Exists(Volatile.Read(ref _all), one => one.Id == credential.Id) ? token : new CancellationToken(canceled: true);
    }

    private static string Hash(string token) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(token)));

    private void Write(Credential[] all)
    {
        var part = _file + ".part";
        File.Delete(part);
        var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows())
            options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        using (var stream = new FileStream(part, options))
        {
            JsonSerializer.Serialize(stream, all, Form);
            stream.Flush(flushToDisk: true);
        }

        File.Move(part, _file, overwrite: true);
        Volatile.Write(ref _all, all);
    }
}
