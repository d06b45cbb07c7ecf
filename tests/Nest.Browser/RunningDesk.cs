using System.Diagnostics;
using System.Net;
using System.Net.Http.Json;
using Nest.Tests.Desk;

namespace Nest.Browser;

/// <summary>The desk as a program of its own, with one browser let in. It may be killed at any moment.</summary>
internal sealed class RunningDesk : IDisposable
{
    private readonly Process _program;
    private readonly HttpClient _guest;

    private RunningDesk(Process program, HttpClient guest, TimeSpan firstPage) => (_program, _guest, FirstPage) = (program, guest, firstPage);

    /// <summary>From the command until the page of the jobs was there, the button at the entrance pressed at once.</summary>
    public TimeSpan FirstPage { get; }

    public static async Task<RunningDesk> StartAsync(string program, string folder)
    {
        var clock = Stopwatch.StartNew();
        var process = Process.Start(new ProcessStartInfo(program, ["desk", folder, "--no-browser"]) { RedirectStandardOutput = true, RedirectStandardInput = true })!;
        while (await process.StandardOutput.ReadLineAsync() is { } line)
        {
            if (line.IndexOf("http://", StringComparison.Ordinal) is >= 0 and var at && line.Contains("/enter?token=", StringComparison.Ordinal))
            {
                var entry = new Uri(line[at..]);
                var guest = new HttpClient(new HttpClientHandler { CookieContainer = new CookieContainer(), AllowAutoRedirect = false }) { BaseAddress = new(entry.GetLeftPart(UriPartial.Authority)) };
                await OpenDesk.EnterAsync(guest, entry);
                (await guest.GetAsync("/")).EnsureSuccessStatusCode();
                return new(process, guest, clock.Elapsed);
            }
        }

        throw new InvalidOperationException("The desk did not start.");
    }

    public Task<HttpResponseMessage> TellAsync(string path, (string Id, string Step)[] ticks)
    {
        var request = new HttpRequestMessage(HttpMethod.Post, path) { Content = JsonContent.Create(ticks.Select(tick => new { tick.Id, tick.Step, Add = 1 }).ToArray()) };
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
    }
}
