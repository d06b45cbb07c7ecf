using System.Net;
using System.Security.Claims;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.AspNetCore.Components.Forms;
using Microsoft.AspNetCore.Components.Server.Circuits;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Nest.Desk.Model;
using Nest.Desk.Security;

namespace Nest.Tests.Desk;

/// <summary>Who may come in, and what the desk refuses. Each test fails without the rule that it names.</summary>
public class DeskSafetyTest(DeskSafetyTest.SharedDesk shared) : IClassFixture<DeskSafetyTest.SharedDesk>
{
    /// <summary>One desk with a plan's folder for the tests that only ask it for something and change nothing.</summary>
    public sealed class SharedDesk : IAsyncLifetime
    {
        private OpenDesk? desk;

        internal OpenDesk Desk => desk!;

        public async Task InitializeAsync()
        {
            desk = await OpenDesk.StartAsync(SignedShop.Files);
            SignedShop.Sign(desk.Folder, whole: true);
        }

        public async Task DisposeAsync() => await Desk.DisposeAsync();
    }

    [Theory]
    [InlineData("/"), InlineData("/rack"), InlineData("/job/a/plan"), InlineData("/job/a/parts"), InlineData("/pictures/a/b/1.svg"), InlineData("/no/such/page")]
    public async Task Nobody_sees_a_page_without_having_been_let_in(string path)
    {
        (await shared.Desk.Stranger().GetAsync(path)).StatusCode.Should().BeOneOf(HttpStatusCode.Unauthorized, HttpStatusCode.NotFound);
        (await shared.Desk.Stranger().GetAsync("/")).StatusCode.Should().Be(HttpStatusCode.Unauthorized);
    }

    [Fact]
    public async Task Only_the_entrance_and_the_assets_are_open_to_everybody()
    {
        await using var desk = await OpenDesk.StartAsync();

        var open = desk.Server.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>()
            .Where(endpoint => endpoint.Metadata.GetMetadata<IAllowAnonymous>() is not null).Select(endpoint => endpoint.RoutePattern.RawText);

        open.Should().BeEquivalentTo(
            "/enter", "/enter", "/pair", "/pair", "/assets/desk.css", "/assets/desk.js", "/assets/tablet.css", "/assets/tablet.js", "/_framework/blazor.web.js");
    }

    [Fact]
    public async Task The_entrance_lets_one_browser_in_once()
    {
        await using var desk = await OpenDesk.StartAsync();
        var entry = desk.Server.NewEntry();
        var first = desk.Stranger();

        (await OpenDesk.EnterAsync(first, entry)).StatusCode.Should().Be(HttpStatusCode.Redirect);
        (await first.GetAsync("/")).StatusCode.Should().Be(HttpStatusCode.OK);

        (await OpenDesk.EnterAsync(desk.Stranger(), entry)).StatusCode.Should().Be(HttpStatusCode.Forbidden, "the address was spent");
    }

    [Fact]
    public async Task Looking_at_the_address_spends_nothing()
    {
        await using var desk = await OpenDesk.StartAsync();
        var entry = desk.Server.NewEntry();
        await desk.Stranger().GetStringAsync(entry);
        await desk.Stranger().GetStringAsync(entry);

        (await OpenDesk.EnterAsync(desk.Stranger(), entry)).StatusCode.Should().Be(HttpStatusCode.Redirect);
    }

    [Fact]
    public void Five_wrong_tries_void_the_token_and_so_do_two_minutes()
    {
        var clock = new HandClock();
        var tokens = new EntryTokens(clock);
        var token = tokens.New();
        for (var i = 0; i < 4; i++)
        {
            tokens.Spend(new string('0', 32)).Should().BeFalse();
        }

        tokens.Spend(token).Should().BeTrue("four misses are allowed");

        token = tokens.New();
        for (var i = 0; i < 5; i++)
        {
            tokens.Spend("x").Should().BeFalse();
        }

        tokens.Spend(token).Should().BeFalse("the fifth miss voided it");

        token = tokens.New();
        clock.Now += TimeSpan.FromMinutes(2);
        tokens.Spend(token).Should().BeFalse("it is too old");
    }

    [Fact]
    public async Task A_browser_that_is_thrown_out_is_refused_at_its_next_request()
    {
        await using var desk = await OpenDesk.StartAsync();
        var guest = await desk.GuestAsync();
        var devices = desk.Server.Services.GetRequiredService<Devices>();

        devices.Remove(devices.All.Single().Id);

        (await guest.GetAsync("/")).StatusCode.Should().Be(HttpStatusCode.Unauthorized);
    }

    [Theory]
    [InlineData("evil.example"), InlineData("127.0.0.1:1"), InlineData("127.0.0.1"), InlineData("[::1]")]
    public async Task Under_a_foreign_name_the_desk_does_not_answer(string host)
    {
        var request = new HttpRequestMessage(HttpMethod.Get, "/enter");
        request.Headers.Host = host;

        (await shared.Desk.Stranger().SendAsync(request)).StatusCode.Should().Be(HttpStatusCode.BadRequest);
    }

    [Theory]
    [InlineData("POST", "/enter", "http://127.0.0.1:1"), InlineData("POST", "/enter", "http://evil.example"), InlineData("POST", "/enter", null), InlineData("POST", "/enter", "null")]
    [InlineData("GET", "/_blazor", "http://127.0.0.1:1"), InlineData("UPGRADE", "/_blazor", null), InlineData("UPGRADE", "/_blazor", "http://127.0.0.1:1"), InlineData("POST", "/_blazor/negotiate", "http://evil.example")]
    [InlineData("DELETE", "/", null)]
    public async Task A_foreign_page_cannot_change_anything_nor_listen(string method, string path, string? origin)
    {
        var guest = await shared.Desk.GuestAsync();
        var request = new HttpRequestMessage(new(method == "UPGRADE" ? "GET" : method), path);
        if (method == "UPGRADE")
        {
            request.Headers.Add("Connection", "Upgrade");
            request.Headers.Add("Upgrade", "websocket");
        }

        if (origin is not null)
        {
            request.Headers.Add("Origin", origin);
        }

        (await guest.SendAsync(request)).StatusCode.Should().Be(HttpStatusCode.Forbidden);
    }

    [Fact]
    public async Task A_form_without_its_own_token_is_refused()
    {
        await using var desk = await OpenDesk.StartAsync();
        var token = desk.Server.NewEntry().Query["?token=".Length..];

        (await OpenDesk.PostAsync(desk.Stranger(), "/enter", new() { ["token"] = token })).StatusCode.Should().Be(HttpStatusCode.BadRequest);
    }

    [Theory]
    [InlineData("/", 401), InlineData("/enter", 200), InlineData("/assets/desk.css", 200), InlineData("/nothing", 0)]
    public async Task Every_answer_carries_the_strict_policy(string path, int status)
    {
        var answer = await shared.Desk.Stranger().GetAsync(path);

        if (status > 0)
        {
            ((int)answer.StatusCode).Should().Be(status);
        }

        var policies = answer.Headers.GetValues("Content-Security-Policy").ToList();
        policies[0].Should().Contain("default-src 'self'").And.Contain("frame-ancestors 'none'").And.NotContain("unsafe");
        answer.Headers.GetValues("Referrer-Policy").Should().Equal("same-origin");
        answer.Headers.GetValues("X-Content-Type-Options").Should().Equal("nosniff");
        answer.Headers.CacheControl!.NoStore.Should().BeTrue();
    }

    [Fact]
    public async Task The_cookie_is_strict_and_out_of_reach_of_scripts_and_names_its_port()
    {
        await using var desk = await OpenDesk.StartAsync();

        var answer = await OpenDesk.EnterAsync(desk.Stranger(), desk.Server.NewEntry());

        var cookie = answer.Headers.GetValues("Set-Cookie").Single(line => line.StartsWith("nest-desk", StringComparison.Ordinal));
        cookie.Should().StartWith($"nest-desk-http-{desk.Server.Address.Port}=").And.Contain("httponly").And.Contain("samesite=strict").And.NotContain("domain");
        answer.Headers.Location!.ToString().Should().Be("/");
    }

    [Fact]
    public async Task The_list_of_browsers_holds_no_secret_and_lives_on_after_a_restart()
    {
        await using var desk = await OpenDesk.StartAsync();
        var devices = desk.Server.Services.GetRequiredService<Devices>();
        var secret = devices.Add("a browser");
        var file = Path.Combine(desk.Folder, ".nest-desk", "devices.json");

        (await File.ReadAllTextAsync(file)).Should().NotContain(secret);
        new Devices(file, TimeProvider.System).Find(secret)!.Name.Should().Be("a browser");
        new Devices(file, TimeProvider.System).Find(new string('0', 32)).Should().BeNull();
    }

    [Fact]
    public async Task The_desk_listens_on_this_machine_alone()
    {
        await using var desk = await OpenDesk.StartAsync();

        var addresses = desk.Server.Services.GetRequiredService<IServer>().Features.GetRequiredFeature<IServerAddressesFeature>().Addresses;

        addresses.Should().OnlyContain(address => IPAddress.IsLoopback(IPAddress.Parse(new Uri(address).Host)));
    }

    [Fact]
    public async Task Tokens_are_random_and_have_128_bits()
    {
        await using var desk = await OpenDesk.SharedAsync();

        var tokens = Enumerable.Range(0, 20).SelectMany(_ => new[] { desk.NewPairing(), desk.Server.NewEntry().Query["?token=".Length..] }).ToList();

        tokens.Should().OnlyHaveUniqueItems().And.OnlyContain(token => token.Length == 32 && token.All(char.IsAsciiHexDigitLower));
    }

    [Fact]
    public async Task A_request_larger_than_a_spreadsheet_is_refused()
    {
        await using var desk = await OpenDesk.StartAsync();
        using var line = new System.Net.Sockets.TcpClient();
        await line.ConnectAsync(desk.Server.Address.Host, desk.Server.Address.Port);
        var stream = line.GetStream();
        // Only the head is sent: whoever took such a request would wait for its body.
        await stream.WriteAsync(System.Text.Encoding.ASCII.GetBytes(
            $"POST /enter HTTP/1.1\r\nHost: {desk.Server.Address.Authority}\r\nOrigin: http://{desk.Server.Address.Authority}\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: {(32 * 1024 * 1024) + 1}\r\n\r\n"));
        using var patience = new CancellationTokenSource(TimeSpan.FromMinutes(2));
        var answer = await new StreamReader(stream).ReadLineAsync(patience.Token);

        answer.Should().MatchRegex("^HTTP/1.1 4(00|13) ");
    }

    [Fact]
    public async Task What_is_dropped_is_limited_in_number_kind_and_size_whatever_the_browser_tells()
    {
        (await DroppedFile.ReadAsync([new Dropped("list.csv", 10)])).Files.Should().ContainSingle();
        (await DroppedFile.ReadAsync([new Dropped("tool.exe", 10)])).Should().Match<(IReadOnlyList<DroppedFile> Files, string Problem)>(read => read.Files.Count == 0 && read.Problem.Contains(DeskTexts.NoSuchKind, StringComparison.Ordinal));
        (await DroppedFile.ReadAsync([new Dropped("a.stl", (int)DroppedFile.MostBytes), new Dropped("b.stl", 1)])).Problem.Should().Be(DeskTexts.TooLarge);
        (await DroppedFile.ReadAsync([.. Enumerable.Range(0, DroppedFile.MostFiles + 1).Select(_ => new Dropped("a.stl", 1))])).Problem.Should().Be(DeskTexts.TooMany);
        new DroppedFile("../../.ssh/authorized keys.csv", []).SafeName.Should().Be("authorized keys.csv");
    }

    /// <summary>A browser's file that tells a size of one byte, and sends as many as it likes.</summary>
    private sealed class Dropped(string name, int bytes) : IBrowserFile
    {
        public string Name => name;

        public DateTimeOffset LastModified => default;

        public long Size => 1;

        public string ContentType => "text/csv";

        public Stream OpenReadStream(long maxAllowedSize = 0, CancellationToken cancellationToken = default) => new MemoryStream(new byte[bytes]);
    }

    [Fact]
    public async Task A_page_that_is_open_takes_nothing_more_from_a_browser_that_was_thrown_out()
    {
        await using var desk = await OpenDesk.StartAsync();
        var devices = desk.Server.Services.GetRequiredService<Devices>();
        devices.Add("a browser");
        var page = new OpenPages(new Who(devices.All.Single().Id), devices);
        var done = 0;
        var act = page.CreateInboundActivityHandler(_ => Task.FromResult(++done));

        await act(null!);
        devices.Remove(devices.All.Single().Id);
        await act(null!);

        done.Should().Be(1);
        desk.Server.Services.CreateScope().ServiceProvider.GetServices<CircuitHandler>().Should().Contain(handler => handler is OpenPages);
    }

    private sealed class Who(string id) : AuthenticationStateProvider
    {
        public override Task<AuthenticationState> GetAuthenticationStateAsync() => Task.FromResult(new AuthenticationState(new(new ClaimsIdentity([new(ClaimTypes.NameIdentifier, id)], "a test"))));
    }

    [Theory]
    [InlineData("/files/lamp/../job.toml"), InlineData("/files/lamp/..%2fjob.toml"), InlineData("/files/lamp/data%2f..%2f..%2fjob.toml"), InlineData("/files/..%2f/job.toml"), InlineData("/files/lamp/in-use.txt")]
    public async Task Of_a_plans_folder_only_what_its_list_names_can_be_read(string path)
    {
        var guest = await shared.Desk.GuestAsync();

        (await guest.GetAsync("/files/lamp/cut-sheet.pdf")).StatusCode.Should().Be(HttpStatusCode.OK);
        (await guest.GetAsync(path)).StatusCode.Should().BeOneOf(HttpStatusCode.NotFound, HttpStatusCode.BadRequest);
    }

    [Theory]
    [InlineData("../secret.toml"), InlineData("..%2fsecret.toml"), InlineData("lamp/../../secret.toml"), InlineData("link.toml")]
    public async Task No_text_outside_the_shop_is_shown_or_written(string name)
    {
        await using var desk = await OpenDesk.StartAsync(SignedShop.Files);
        var secret = Path.Combine(Path.GetDirectoryName(desk.Folder)!, $"secret-{Guid.NewGuid():N}.toml");
        await File.WriteAllTextAsync(secret, "name = \"not for the desk\"");
        try
        {
            if (name == "link.toml")
            {
                File.CreateSymbolicLink(Path.Combine(desk.Folder, name), secret);
            }

            var asked = name.Replace("secret.toml", Path.GetFileName(secret), StringComparison.Ordinal);
            var texts = desk.Server.Services.GetRequiredService<ShopTexts>();
            texts.Read(asked).Should().BeNull();
            texts.Write(asked, "name = \"not for the desk\"", "x = 1").Should().NotBeEmpty();
            (await (await desk.GuestAsync()).GetStringAsync($"/settings?file={Uri.EscapeDataString(asked)}")).Should().NotContain("not for the desk");
            (await File.ReadAllTextAsync(secret)).Should().Contain("not for the desk");
        }
        finally
        {
            File.Delete(secret);
        }
    }

    [Theory]
    [InlineData("..%2f..%2fetc"), InlineData("..\\.."), InlineData("%2e%2e")]
    public async Task A_name_from_outside_is_never_a_path(string name)
    {
        var guest = await shared.Desk.GuestAsync();

        var answer = await guest.GetAsync($"/pictures/{name}/mark/1.svg");

        answer.StatusCode.Should().BeOneOf(HttpStatusCode.NotFound, HttpStatusCode.BadRequest);
    }
}
