using System.Security.Cryptography;

namespace TrimAssist.Service.Security;

/// <summary>A code that turns into a credential once.</summary>
/// <param name="Code">What to type.</param>
/// <param name="Name">Whose the credential will be.</param>
/// <param name="Role">What it will allow.</param>
/// <param name="Inputs">Its own inputs; <see langword="null"/> for all.</param>
/// <param name="ExpiresAt">Until when.</param>
/// <param name="Desk">The desk that its inputs are on; <see langword="null"/> for the only one there is.</param>
internal sealed record PairingCode(string Code, string Name, Role Role, IReadOnlyList<int>? Inputs, DateTimeOffset ExpiresAt, string? Desk);

/// <summary>Gives out short-lived codes and takes each of them once. Guessing is limited for all callers together, since an address costs nothing.</summary>
/// <param name="time">The clock.</param>
internal sealed class PairingDesk(TimeProvider time)
{
    /// <summary>How long a code lives.</summary>
    public static readonly TimeSpan Life = TimeSpan.FromMinutes(5);

    /// <summary>How many wrong codes are looked at within <see cref="Per"/>.</summary>
    public const int WrongAllowed = 5;

    /// <summary>The time in which wrong codes are counted.</summary>
    public static readonly TimeSpan Per = TimeSpan.FromMinutes(1);

    private const int MostOpen = 16;
    private const int Length = 8;

    // Without what is misread on a phone: 0 and O, 1, I and L.
    private const string Alphabet = "23456789ABCDEFGHJKMNPQRSTUVWXYZ";

    private readonly Lock _guard = new();
    private readonly List<(PairingCode Code, long Since)> _open = [];
    private readonly Queue<long> _wrong = new();

    /// <summary>Makes a code; the oldest gives way when there are too many.</summary>
    public PairingCode Open(string name, Role role, IReadOnlyList<int>? inputs, string? desk = null)
    {
        var code = new PairingCode(RandomNumberGenerator.GetString(Alphabet, Length), name, role, inputs, time.GetUtcNow() + Life, desk);
        lock (_guard)
        {
            if (_open.Count == MostOpen)
                _open.RemoveAt(0);
            _open.Add((code, time.GetTimestamp()));
        }

        return code;
    }

    /// <summary>Takes a code, once.</summary>
    /// <param name="typed">What was typed; case, spaces and dashes do not matter.</param>
    /// <param name="tooMany">Whether it was not even looked at.</param>
    public PairingCode? Take(string typed, out bool tooMany)
    {
        var code = string.Concat(typed.Where(char.IsLetterOrDigit)).ToUpperInvariant();
        lock (_guard)
        {
            _open.RemoveAll(one => time.GetElapsedTime(one.Since) >= Life);
            while (_wrong.TryPeek(out var oldest) && time.GetElapsedTime(oldest) >= Per)
                _wrong.Dequeue();
            tooMany = _wrong.Count >= WrongAllowed;
            if (tooMany)
                return null;
            var index = _open.FindIndex(one => string.Equals(one.Code.Code, code, StringComparison.Ordinal));
            if (index < 0)
            {
                _wrong.Enqueue(time.GetTimestamp());
                return null;
            }

            var found = _open[index].Code;
            _open.RemoveAt(index);
            return found;
        }
    }
}
