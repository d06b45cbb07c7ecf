using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Http.Json;
using Nest.Tests.Desk;

namespace Nest.Browser;

/// <summary>The desk as a program of its own, with one browser let in. It may be killed at any moment.</summary>
internal sealed class RunningDesk : IDisposable
{
    private readonly Process _program;
    private readonly HttpClient _guest;
    private readonly CookieContainer _cookies;

    private RunningDesk(Process program, HttpClient guest, CookieContainer cookies, TimeSpan firstPage) => (_program, _guest, _cookies, FirstPage) = (program, guest, cookies, firstPage);

    /// <summary>From the command until the page of the jobs was there, the button at the entrance pressed at once.</summary>
    public TimeSpan FirstPage { get; }

    /// <param name="before">A desk on the same folder that was let in earlier and is gone: its browser goes on at the same address.</param>
    public static async Task<RunningDesk> StartAsync(string program, string folder, RunningDesk? before = null)
    {
        var clock = Stopwatch.StartNew();
        string[] port = before is null ? [] : ["--port", before._guest.BaseAddress!.Port.ToString(CultureInfo.InvariantCulture)];
        var process = Process.Start(new ProcessStartInfo(program, ["desk", folder, "--no-browser", .. port]) { RedirectStandardOutput = true, RedirectStandardInput = true })!;
        while (await process.StandardOutput.ReadLineAsync() is { } line)
        {
            if (line.IndexOf("http://", StringComparison.Ordinal) is >= 0 and var at && line.Contains("/enter?token=", StringComparison.Ordinal))
            {
                var entry = new Uri(line[at..]);
                var cookies = before?._cookies ?? new CookieContainer();
                var guest = new HttpClient(new HttpClientHandler { CookieContainer = cookies, AllowAutoRedirect = false }) { BaseAddress = new(entry.GetLeftPart(UriPartial.Authority)) };
                if (before is null)
                {
                    await OpenDesk.EnterAsync(guest, entry);
                    (await guest.GetAsync("/")).EnsureSuccessStatusCode();
                }

                return new(process, guest, cookies, clock.Elapsed);
            }
        }

        throw new InvalidOperationException("The desk did not start.");
    }

    /// <summary>Where a browser is let in; null: this one was let in already.</summary>
    public Uri? Entry { get; private init; }

    /// <summary>The shop's folder, where it is one of this desk's own.</summary>
    public string? Folder { get; private init; }

    /// <summary>A desk with the door for devices open; nobody is let in yet.</summary>
    /// <param name="folder">The shop; null: an empty folder of its own.</param>
    public static async Task<RunningDesk> OpenAsync(string program, string? folder = null)
    {
        folder ??= Directory.CreateTempSubdirectory("nest-desk-").FullName;
        var process = Process.Start(new ProcessStartInfo(program, ["desk", folder, "--no-browser", "--share"]) { RedirectStandardOutput = true, RedirectStandardInput = true })!;
        while (await process.StandardOutput.ReadLineAsync() is { } line)
        {
            if (line.IndexOf("http://", StringComparison.Ordinal) is >= 0 and var at && line.Contains("/enter?token=", StringComparison.Ordinal))
            {
                return new(process, new(), new(), TimeSpan.Zero) { Entry = new(line[at..]), Folder = folder };
            }
        }

        throw new InvalidOperationException("The desk did not start.");
    }

    public Task<HttpResponseMessage> TellAsync(string path, params (string Id, string Step, int Add)[] ticks)
    {
        var request = new HttpRequestMessage(HttpMethod.Post, path) { Content = JsonContent.Create(ticks.Select(tick => new { tick.Id, tick.Step, tick.Add }).ToArray()) };
        request.Headers.Add("Origin", _guest.BaseAddress!.GetLeftPart(UriPartial.Authority));
        return _guest.SendAsync(request);
    }

    public void Kill()
    {
        if (!_program.HasExited)
        {
            _program.Kill();
        }
    }

    public void Dispose()
    {
        Kill();
        _program.WaitForExit();
        _program.Dispose();
        _guest.Dispose();
        if (Folder is not null)
        {
            Directory.Delete(Folder, recursive: true);
        }
    }
}
