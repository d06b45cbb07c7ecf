using System.Net;
using System.Net.Http.Json;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Nest.Desk.Model;
using Nest.Desk.Security;

namespace Nest.Tests.Desk;

/// <summary>What devices of the shop's network may do, and how they come in. Each test fails without the rule that it names.</summary>
public class SharedDoorTest
{
    [Fact]
    public async Task Nothing_listens_for_devices_until_the_desk_is_shared()
    {
        await using var desk = await OpenDesk.StartAsync();

        desk.Server.SharedAddress.Should().BeNull();
        (await (await desk.GuestAsync()).GetStringAsync("/devices")).Should().Contain("--share");
    }

    [Fact]
    public async Task At_the_door_for_devices_the_pages_of_the_desk_do_not_exist()
    {
        await using var desk = await OpenDesk.SharedAsync();
        var (device, stranger) = (await desk.DeviceAsync(), desk.StrangeDevice());

        foreach (var path in new[] { "/", "/rack", "/devices", "/new", "/enter", "/job/a/plan", "/files/a/b", "/pictures/a/b/1.svg", "/_blazor/negotiate", "/_framework/blazor.web.js", "/no/such/page" })
        {
            (await device.GetAsync(path)).StatusCode.Should().Be(HttpStatusCode.NotFound, path);
            (await stranger.GetAsync(path)).StatusCode.Should().Be(HttpStatusCode.NotFound, path);
        }
    }

    [Fact]
    public async Task A_device_may_ask_for_a_short_list_and_nothing_else()
    {
        await using var desk = await OpenDesk.SharedAsync();

        desk.Server.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>().Where(endpoint => endpoint.Metadata.GetMetadata<ForDevices>() is not null)
            .Select(endpoint => $"{string.Join(',', endpoint.Metadata.GetMetadata<HttpMethodMetadata>()!.HttpMethods)} {endpoint.RoutePattern.RawText}")
            .Should().BeEquivalentTo(
                "GET /pair", "POST /pair", "GET /assets/desk.css", "GET /assets/tablet.css", "GET /assets/tablet.js", "GET /saw", "GET /saw/{job}/{mark}", "GET /saw/{job}/{mark}/ticks",
                "POST /saw/{job}/{mark}/ticks", "GET /saw/{job}/{mark}/miscut/{layout:int}", "POST /saw/{job}/{mark}/miscut/{layout:int}", "POST /saw/{job}/{mark}/rest", "GET /saw/{job}/{mark}/rest", "POST /saw/{job}/{mark}/rest/take", "GET /piece/{mark}", "POST /piece/{mark}/seen");
    }

    [Fact]
    public async Task A_device_that_is_not_paired_sees_no_plan()
    {
        await using var desk = await OpenDesk.SharedAsync();

        foreach (var path in new[] { "/saw", "/saw/a/b", "/saw/a/b/ticks", "/piece/A1" })
        {
            (await desk.StrangeDevice().GetAsync(path)).StatusCode.Should().Be(HttpStatusCode.Unauthorized, path);
        }

        (await (await desk.DeviceAsync()).GetAsync("/saw")).StatusCode.Should().Be(HttpStatusCode.OK);
    }

    [Fact]
    public async Task A_code_pairs_one_device_and_looking_at_it_spends_nothing()
    {
        await using var desk = await OpenDesk.SharedAsync();
        var token = desk.NewPairing();
        token.Should().MatchRegex("^[0-9a-f]{32}$", "128 random bits");
        await desk.StrangeDevice().GetStringAsync("/pair?token=" + token);

        (await OpenDesk.PairAsync(desk.StrangeDevice(), token)).StatusCode.Should().Be(HttpStatusCode.Redirect);
        (await OpenDesk.PairAsync(desk.StrangeDevice(), token)).StatusCode.Should().Be(HttpStatusCode.Forbidden);
    }

    [Fact]
    public void Wrong_tries_make_all_wait_longer_and_longer()
    {
        var clock = new HandClock();
        var tokens = new PairTokens(clock);
        var token = tokens.New();
        foreach (var seconds in new[] { 1, 2, 4 })
        {
            tokens.Spend("wrong").Should().BeFalse();
            clock.Now += TimeSpan.FromSeconds(seconds) - TimeSpan.FromTicks(1);
            tokens.Spend(token).Should().BeFalse("the {0} seconds are not over", seconds);
            clock.Now += TimeSpan.FromTicks(1);
        }

        tokens.Spend(token).Should().BeTrue("the waiting is over");
        token = tokens.New();
        clock.Now += TimeSpan.FromMinutes(2);
        tokens.Spend(token).Should().BeFalse("it is too old");
    }

    [Fact]
    public async Task The_cookie_of_a_device_is_strict_and_out_of_reach_of_scripts()
    {
        await using var desk = await OpenDesk.SharedAsync();

        var answer = await OpenDesk.PairAsync(desk.StrangeDevice(), desk.NewPairing());

        answer.Headers.GetValues("Set-Cookie").Single(line => line.StartsWith("nest-saw", StringComparison.Ordinal))
            .Should().StartWith($"nest-saw-http-{desk.Server.SharedAddress!.Port}=").And.Contain("httponly").And.Contain("samesite=strict").And.NotContain("domain");
    }

    [Fact]
    public async Task The_secret_of_a_device_is_worth_nothing_at_the_desk_and_the_desks_nothing_at_the_door_for_devices()
    {
        await using var desk = await OpenDesk.SharedAsync();
        var devices = desk.Server.Services.GetRequiredService<Devices>();

        (await With(desk.Stranger(), $"nest-desk-http-{desk.Server.Address.Port}", devices.Add("a phone", paired: true)).GetAsync("/")).StatusCode.Should().Be(HttpStatusCode.Unauthorized);
        (await With(desk.StrangeDevice(), $"nest-saw-http-{desk.Server.SharedAddress!.Port}", devices.Add("this machine")).GetAsync("/saw")).StatusCode.Should().Be(HttpStatusCode.Unauthorized);

        static HttpClient With(HttpClient client, string name, string secret)
        {
            client.DefaultRequestHeaders.Add("Cookie", $"{name}={secret}");
            return client;
        }
    }

    [Fact]
    public async Task Devices_are_listed_named_and_thrown_out()
    {
        await using var desk = await OpenDesk.SharedAsync();
        var devices = desk.Server.Services.GetRequiredService<Devices>();
        var phone = await desk.DeviceAsync("  <b>phone</b>\u202e of the saw, with a name that goes on and on  ");

        var listed = devices.All.Single(device => device.IsPaired);
        listed.Name.Should().HaveLength(Devices.MostName).And.NotContain("\u202e");
        devices.Rename(listed.Id, "saw");
        devices.All.Single().Name.Should().Be("saw");
        (await (await desk.GuestAsync()).GetStringAsync("/devices")).Should().Contain("value=\"saw\"");

        devices.Remove(listed.Id);
        (await phone.GetAsync("/saw")).StatusCode.Should().Be(HttpStatusCode.Unauthorized);
    }

    [Theory]
    [InlineData("evil.example"), InlineData("localhost"), InlineData("127.0.0.1"), InlineData("[::1]")]
    public async Task Under_a_foreign_name_the_door_does_not_answer(string host)
    {
        await using var desk = await OpenDesk.SharedAsync();
        var request = new HttpRequestMessage(HttpMethod.Get, "/pair");
        request.Headers.Host = host.Contains("evil", StringComparison.Ordinal) || host == "localhost" ? $"{host}:{desk.Server.SharedAddress!.Port}" : host;

        (await desk.StrangeDevice().SendAsync(request)).StatusCode.Should().Be(HttpStatusCode.BadRequest);
    }

    [Theory]
    [InlineData("http://evil.example"), InlineData(null)]
    public async Task A_foreign_page_cannot_tick(string? origin)
    {
        await using var desk = await OpenDesk.SharedAsync();
        var device = await desk.DeviceAsync();
        var request = new HttpRequestMessage(HttpMethod.Post, "/saw/a/b/ticks") { Content = JsonContent.Create(Array.Empty<int>()) };
        if (origin is not null)
        {
            request.Headers.Add("Origin", origin);
        }

        (await device.SendAsync(request)).StatusCode.Should().Be(HttpStatusCode.Forbidden);
    }

    [Fact]
    public async Task Without_a_certificate_the_device_is_told_what_the_network_can_see()
    {
        await using var desk = await OpenDesk.SharedAsync();

        (await desk.StrangeDevice().GetStringAsync("/pair?token=x")).Should().Contain("whoever is on the same network can read");
    }

    [Fact]
    public async Task With_a_certificate_of_ones_own_devices_come_in_by_TLS_alone_and_are_not_warned()
    {
        using var key = System.Security.Cryptography.RSA.Create(2048);
        var request = new System.Security.Cryptography.X509Certificates.CertificateRequest("CN=desk", key, System.Security.Cryptography.HashAlgorithmName.SHA256, System.Security.Cryptography.RSASignaturePadding.Pkcs1);
        using var made = request.CreateSelfSigned(new(2026, 1, 1, 0, 0, 0, TimeSpan.Zero), new(2036, 1, 1, 0, 0, 0, TimeSpan.Zero));
        var folder = Directory.CreateTempSubdirectory("nest-tls-");
        try
        {
            var file = Path.Combine(folder.FullName, "desk.pem");
            await File.WriteAllTextAsync(file, made.ExportCertificatePem() + "\n" + key.ExportPkcs8PrivateKeyPem());
            await using var desk = new Nest.Desk.DeskServer(new() { Folder = folder.FullName, Share = true, ShareAddress = IPAddress.Loopback, Certificate = file });
            await desk.StartAsync();
            desk.SharedAddress!.Scheme.Should().Be("https");
            using var device = new HttpClient(new HttpClientHandler { ServerCertificateCustomValidationCallback = (_, shown, _, _) => shown!.Thumbprint == made.Thumbprint, AllowAutoRedirect = false }) { BaseAddress = desk.SharedAddress };

            var html = await device.GetStringAsync("/pair?token=x");

            html.Should().NotContain(DeskTexts.NetworkSees);
            var paired = await OpenDesk.PairAsync(device, desk.Services.GetRequiredService<PairTokens>().New());
            paired.Headers.GetValues("Set-Cookie").Single(line => line.StartsWith("nest-saw-https", StringComparison.Ordinal)).Should().Contain("secure");
            using var plain = new HttpClient { BaseAddress = new($"http://{desk.SharedAddress.Authority}") };
            await FluentActions.Awaiting(() => plain.GetAsync("/pair")).Should().ThrowAsync<HttpRequestException>();
            await desk.StopAsync();
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }
}
