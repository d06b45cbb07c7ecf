using System.Diagnostics;

namespace Nest.Tests.Output.Tablet;

/// <summary>A Chromium on the path, driven without a window.</summary>
internal static class Chromium
{
    private static readonly string[] Names = ["chromium", "chromium-browser", "google-chrome"];

    public static string? Binary { get; } = (Environment.GetEnvironmentVariable("PATH") ?? "")
        .Split(Path.PathSeparator, StringSplitOptions.RemoveEmptyEntries)
        .SelectMany(folder => Names.Select(name => Path.Combine(folder, name)))
        .FirstOrDefault(File.Exists);

    /// <summary>Opens a page with a profile of its own folder; returns what it printed (with <c>--dump-dom</c>, the page).</summary>
    public static string Open(string profile, string page, params string[] options)
    {
        var start = new ProcessStartInfo(Binary!)
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            StandardOutputEncoding = System.Text.Encoding.UTF8,
        };
        // The sandbox needs rights that a container has not; the page is our own.
        string[] always =
        [
            "--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run", "--hide-scrollbars",
            "--disable-background-networking", "--disable-component-update", "--user-data-dir=" + profile,
        ];
        foreach (var option in always.Concat(options).Append(new Uri(page).AbsoluteUri))
        {
            start.ArgumentList.Add(option);
        }

        using var process = Process.Start(start)!;
        var output = process.StandardOutput.ReadToEndAsync();
        var error = process.StandardError.ReadToEndAsync();
        if (!process.WaitForExit(TimeSpan.FromMinutes(2)))
        {
            process.Kill(entireProcessTree: true);
            throw new TimeoutException("The browser did not come back.");
        }

        process.ExitCode.Should().Be(0, error.GetAwaiter().GetResult());
        return output.GetAwaiter().GetResult();
    }
}
