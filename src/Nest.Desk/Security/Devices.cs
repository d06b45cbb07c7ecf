using System.Security.Cryptography;
using System.Text;
using System.Text.Json;

namespace Nest.Desk.Security;

/// <summary>A browser that was let in.</summary>
/// <param name="Id">Short public name, not secret.</param>
/// <param name="Hash">Hash of the secret in its cookie: the file lets nobody in.</param>
/// <param name="IsPaired">A phone or tablet that may tick, tell a miscut, count and look up; else a browser of this machine, for all.</param>
internal sealed record Device(string Id, string Name, string Hash, DateTimeOffset Paired, bool IsPaired = false);

/// <summary>The browsers that were let in, kept in a file of the shop's folder so that a restart asks nobody again.</summary>
internal sealed class Devices
{
    public const int MostName = 40;
    private const int Most = 200;
    private static readonly JsonSerializerOptions Format = new() { WriteIndented = true };

    private readonly Lock _gate = new();
    private readonly string _path;
    private readonly TimeProvider _time;
    private List<Device> _known;

    public Devices(string path, TimeProvider time)
    {
        (_path, _time) = (path, time);
        _known = Read(path);
    }

    public IReadOnlyList<Device> All
    {
        get
        {
            lock (_gate)
            {
                return [.. _known];
            }
        }
    }

    /// <summary>Lets a browser in.</summary>
    /// <returns>The secret for its cookie, 128 bits in hex.</returns>
    public string Add(string name, bool paired = false)
    {
        var secret = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(16));
        var device = new Device(Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(4)), NameOf(name), HashOf(secret), _time.GetUtcNow(), paired);
        lock (_gate)
        {
            Keep([.. _known.TakeLast(Most - 1), device]);
        }

        return secret;
    }

    public Device? Find(string secret)
    {
        var hash = HashOf(secret);
        lock (_gate)
        {
            return _known.FirstOrDefault(device => CryptographicOperations.FixedTimeEquals(Encoding.ASCII.GetBytes(device.Hash), Encoding.ASCII.GetBytes(hash)));
        }
    }

    /// <summary>Throws a browser out: its next request is refused.</summary>
    public void Remove(string id)
    {
        lock (_gate)
        {
            Keep([.. _known.Where(device => device.Id != id)]);
        }
    }

    public void Rename(string id, string name)
    {
        lock (_gate)
        {
            Keep([.. _known.Select(device => device.Id == id ? device with { Name = NameOf(name) } : device)]);
        }
    }

    private static string NameOf(string name) => name.Trim() is { Length: > 0 } given ? Core.Texts.PlainText.Shortened(Core.Texts.PlainText.OneLine(given), MostName) : "without a name";

    private void Keep(List<Device> devices)
    {
        var temporary = _path + ".new";
        File.WriteAllText(temporary, JsonSerializer.Serialize(devices, Format));
        File.Move(temporary, _path, overwrite: true);
        _known = devices;
    }

    private static List<Device> Read(string path)
    {
        try
        {
            return File.Exists(path) ? JsonSerializer.Deserialize<List<Device>>(File.ReadAllText(path)) ?? [] : [];
        }
        catch (JsonException)
        {
            // A damaged list lets nobody in; everybody is asked again.
            return [];
        }
    }

    private static string HashOf(string secret) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(secret)));
}
