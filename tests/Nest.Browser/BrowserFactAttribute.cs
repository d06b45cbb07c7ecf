namespace Nest.Browser;

/// <summary>A test that needs a browser: reported as skipped where there is none.</summary>
[AttributeUsage(AttributeTargets.Method)]
public sealed class BrowserFactAttribute : FactAttribute
{
    public BrowserFactAttribute()
    {
        if (OpenBrowser.Path is null)
        {
            Skip = "No browser: install Debian's chromium, or name one by NEST_BROWSER.";
        }
    }
}
