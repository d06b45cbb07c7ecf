using System.Net;
using System.Text.RegularExpressions;
using Microsoft.Extensions.DependencyInjection;
using Nest.Desk;
using Nest.Desk.Security;

namespace Nest.Tests.Desk;

/// <summary>A desk on a free port over a shop in a folder of its own, and browsers that talk to it.</summary>
internal sealed class OpenDesk : IAsyncDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("nest-desk-");
    private readonly bool _shared;

    private OpenDesk(bool shared)
    {
        _shared = shared;
        Server = Desk();
    }

    public DeskServer Server { get; private set; }

    public string Folder => _folder.FullName;

    public static Task<OpenDesk> StartAsync(params (string Name, string Text)[] files) => StartAsync(false, files);

    /// <summary>A desk with the door for devices open, on this machine's own address.</summary>
    public static Task<OpenDesk> SharedAsync(params (string Name, string Text)[] files) => StartAsync(true, files);

    private static async Task<OpenDesk> StartAsync(bool shared, (string Name, string Text)[] files)
    {
        var desk = new OpenDesk(shared);
        foreach (var (name, text) in files)
        {
            var path = Path.Combine(desk.Folder, name);
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            await File.WriteAllTextAsync(path, text);
        }

        await desk.Server.StartAsync();
        return desk;
    }

    /// <summary>Stops the desk and starts it anew on the same folder.</summary>
    public async Task RestartAsync()
    {
        await Server.StopAsync();
        await Server.DisposeAsync();
        Server = Desk();
        await Server.StartAsync();
    }

    private DeskServer Desk() => new(new() { Folder = _folder.FullName, Share = _shared, ShareAddress = IPAddress.Loopback });

    /// <summary>A device on the shop's network that nobody paired.</summary>
    public HttpClient StrangeDevice() => new(new HttpClientHandler { CookieContainer = new CookieContainer(), AllowAutoRedirect = false }) { BaseAddress = Server.SharedAddress };

    /// <summary>A device that was paired by the code that the desk shows.</summary>
    public async Task<HttpClient> DeviceAsync(string name = "a phone")
    {
        var device = StrangeDevice();
        (await PairAsync(device, NewPairing(), name)).StatusCode.Should().Be(HttpStatusCode.Redirect);
        return device;
    }

    public string NewPairing() => Server.Services.GetRequiredService<PairTokens>().New();

    public static async Task<HttpResponseMessage> PairAsync(HttpClient device, string token, string name = "a phone")
    {
        var fields = Fields(await device.GetStringAsync("/pair?token=" + token));
        fields["name"] = name;
        return await PostAsync(device, "/pair", fields);
    }

    /// <summary>The hidden fields of a page's form.</summary>
    public static Dictionary<string, string> Fields(string page) => Regex.Matches(page, "name=\"([^\"]+)\" value=\"([^\"]*)\"")
        .ToDictionary(match => match.Groups[1].Value, match => WebUtility.HtmlDecode(match.Groups[2].Value));

    /// <summary>A browser that nobody let in.</summary>
    public HttpClient Stranger() => new(new HttpClientHandler { CookieContainer = new CookieContainer(), AllowAutoRedirect = false }) { BaseAddress = Server.Address };

    /// <summary>A browser that was let in at the entrance.</summary>
    public async Task<HttpClient> GuestAsync()
    {
        var client = Stranger();
        (await EnterAsync(client, Server.NewEntry())).StatusCode.Should().Be(HttpStatusCode.Redirect);
        return client;
    }

    /// <summary>Opens the address and presses the button.</summary>
    public static async Task<HttpResponseMessage> EnterAsync(HttpClient client, Uri entry)
    {
        return await PostAsync(client, "/enter", Fields(await client.GetStringAsync(entry)));
    }

    /// <summary>Sends a form as one of the desk's own pages does.</summary>
    public static Task<HttpResponseMessage> PostAsync(HttpClient client, string path, Dictionary<string, string> fields)
    {
        var request = new HttpRequestMessage(HttpMethod.Post, path) { Content = new FormUrlEncodedContent(fields) };
        request.Headers.Add("Origin", client.BaseAddress!.GetLeftPart(UriPartial.Authority));
        return client.SendAsync(request);
    }

    public async ValueTask DisposeAsync()
    {
        await Server.StopAsync();
        await Server.DisposeAsync();
        _folder.Delete(recursive: true);
    }
}
