using Microsoft.Playwright;

namespace Nest.Browser;

/// <summary>One browser for all tests of a class. Nothing is downloaded: it is the one on the path, or the one that NEST_BROWSER names.</summary>
public sealed class OpenBrowser : IAsyncLifetime
{
    private static readonly string[] Names = ["chromium", "chromium-browser", "google-chrome"];

    private IPlaywright? _driver;
    private IBrowser? _browser;

    public static string? Path { get; } = Environment.GetEnvironmentVariable("NEST_BROWSER") is { Length: > 0 } named
        ? named
        : (Environment.GetEnvironmentVariable("PATH") ?? "").Split(System.IO.Path.PathSeparator, StringSplitOptions.RemoveEmptyEntries)
            .SelectMany(folder => Names.Select(name => System.IO.Path.Combine(folder, name))).FirstOrDefault(File.Exists);

    /// <summary>Folder for pictures to look at; null: none are taken.</summary>
    public static string? Samples { get; } = Environment.GetEnvironmentVariable("NEST_SAMPLES") is { Length: > 0 } folder ? folder : null;

    public async Task InitializeAsync()
    {
        if (Path is null)
        {
            return;
        }

        _driver = await Playwright.CreateAsync();
        // The sandbox needs rights that a container's root has not; the pages are our own. Without a graphics processor its work would be imitated, which
        // costs more than to draw at once.
        string[] arguments = [.. Environment.UserName == "root" ? ["--no-sandbox"] : Array.Empty<string>(), "--disable-dev-shm-usage", "--disable-gpu", "--disable-gpu-rasterization"];
        _browser = await _driver.Chromium.LaunchAsync(new() { ExecutablePath = Path, Args = arguments, ChromiumSandbox = false });
    }

    /// <summary>A window of its own: no cookies or stores of another test.</summary>
    public async Task<IPage> PageAsync(int width, int height, ColorScheme look = ColorScheme.Light, bool touch = false, string? entry = null)
    {
        var context = await _browser!.NewContextAsync(new()
        {
            ViewportSize = new() { Width = width, Height = height }, ColorScheme = look, Locale = "en-GB", TimezoneId = "Europe/Berlin", HasTouch = touch, BaseURL = entry,
            ReducedMotion = ReducedMotion.Reduce,
        });
        context.SetDefaultTimeout(90_000);
        return await context.NewPageAsync();
    }

    /// <summary>Waits until the page is at an address. The browser is asked again and again: <see cref="IPage.WaitForURLAsync(string, PageWaitForURLOptions)"/> may miss the event that it waits for (playwright-dotnet, issue 3364).</summary>
    public static Task ThereAsync(IPage page, Uri address) => Assertions.Expect(page).ToHaveURLAsync(address.ToString(), new() { Timeout = 90_000 });

    public static async Task PictureAsync(IPage page, string name)
    {
        if (Samples is { } folder)
        {
            Directory.CreateDirectory(folder);
            await page.ScreenshotAsync(new() { Path = System.IO.Path.Combine(folder, name + ".png") });
        }
    }

    public async Task DisposeAsync()
    {
        if (_browser is not null)
        {
            await _browser.DisposeAsync();
        }

        _driver?.Dispose();
    }
}
