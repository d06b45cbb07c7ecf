using System.Security.Cryptography;
using System.Text;

namespace Nest.Desk.Security;

/// <summary>The one token that lets the next browser in: 128 random bits, for two minutes, once; after five wrong tries it is gone.</summary>
internal class EntryTokens(TimeProvider time)
{
    private const int MostMisses = 5;
    private static readonly TimeSpan Life = TimeSpan.FromMinutes(2);

    private readonly Lock _gate = new();
    private byte[]? _token;
    private DateTimeOffset _ends;
    private int _misses;
    private DateTimeOffset _waits;

    /// <summary>A new token in hex; the one before is void.</summary>
    public string New()
    {
        var token = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(16));
        lock (_gate)
        {
            (_token, _ends, _misses) = (Encoding.ASCII.GetBytes(token), time.GetUtcNow() + Life, 0);
        }

        return token;
    }

    /// <summary>How long after so many wrong tries no other is looked at.</summary>
    protected virtual TimeSpan Wait(int misses) => TimeSpan.Zero;

    /// <summary>Spends the token when it is the one.</summary>
    public bool Spend(string? given)
    {
        lock (_gate)
        {
            if (time.GetUtcNow() < _waits)
            {
                return false;
            }

            if (_token is null || time.GetUtcNow() >= _ends)
            {
                _token = null;
                return false;
            }

            // In a time that does not tell how much of it was right.
            var right = CryptographicOperations.FixedTimeEquals(_token, Encoding.UTF8.GetBytes(given ?? ""));
            if (right || ++_misses >= MostMisses)
            {
                _token = null;
            }

            if (!right)
            {
                _waits = time.GetUtcNow() + Wait(_misses);
            }

            return right;
        }
    }
}
