using System.Net;
using System.Text.RegularExpressions;
using Nest.Desk;

namespace Nest.Tests.Desk;

/// <summary>A desk on a free port over a shop in a folder of its own, and browsers that talk to it.</summary>
internal sealed class OpenDesk : IAsyncDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("nest-desk-");

    private OpenDesk()
    {
        Server = new(new() { Folder = _folder.FullName });
    }

    public DeskServer Server { get; }

    public string Folder => _folder.FullName;

    public static async Task<OpenDesk> StartAsync(params (string Name, string Text)[] files)
    {
        var desk = new OpenDesk();
        foreach (var (name, text) in files)
        {
            var path = Path.Combine(desk.Folder, name);
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            await File.WriteAllTextAsync(path, text);
        }

        await desk.Server.StartAsync();
        return desk;
    }

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
    public async Task<HttpResponseMessage> EnterAsync(HttpClient client, Uri entry)
    {
        var page = await client.GetStringAsync(entry);
        var fields = Regex.Matches(page, "name=\"([^\"]+)\" value=\"([^\"]*)\"").ToDictionary(match => match.Groups[1].Value, match => WebUtility.HtmlDecode(match.Groups[2].Value));
        return await PostAsync(client, "/enter", fields);
    }

    /// <summary>Sends a form as one of the desk's own pages does.</summary>
    public Task<HttpResponseMessage> PostAsync(HttpClient client, string path, Dictionary<string, string> fields)
    {
        var request = new HttpRequestMessage(HttpMethod.Post, path) { Content = new FormUrlEncodedContent(fields) };
        request.Headers.Add("Origin", Server.Address.GetLeftPart(UriPartial.Authority));
        return client.SendAsync(request);
    }

    public async ValueTask DisposeAsync()
    {
        await Server.StopAsync();
        await Server.DisposeAsync();
        _folder.Delete(recursive: true);
    }
}
