namespace Nest.Tests.Output.Tablet;

/// <summary>What the device keeps for a page (HTML Standard, 12.2: keys and values are texts).</summary>
public sealed class PageStorage
{
    internal Dictionary<string, string> Items { get; } = new(StringComparer.Ordinal);

    /// <summary>As where a browser forbids to keep anything: every access throws.</summary>
    internal bool Forbidden { get; init; }

    public string? GetItem(string key)
    {
        Refuse();
        return Items.GetValueOrDefault(key);
    }

    public void SetItem(string key, string value)
    {
        Refuse();
        Items[key] = value;
    }

    private void Refuse()
    {
        if (Forbidden)
        {
            throw new Jint.Runtime.JavaScriptException("SecurityError");
        }
    }
}
