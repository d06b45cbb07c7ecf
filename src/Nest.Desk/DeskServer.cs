using System.Net;
using System.Security.Cryptography.X509Certificates;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;
using Nest.Desk.Model;
using Nest.Desk.Pages;
using Nest.Desk.Security;

namespace Nest.Desk;

/// <summary>The desk: pages on this machine's own addresses, for browsers that were let in.</summary>
/// <remarks>Holds the order in which a request passes its guards, and nothing else. The same class serves the command and the tests.</remarks>
public sealed class DeskServer : IAsyncDisposable
{
    /// <summary>Largest request: a spreadsheet or a model, not more.</summary>
    private const long MostBytes = 32 * 1024 * 1024;

    private readonly WebApplication _app;
    private readonly DeskOptions _options;
    private readonly Task _jobsAhead;
    private Task _pageAhead = Task.CompletedTask;

    public DeskServer(DeskOptions options)
    {
        _options = options;
        _jobsAhead = LookAhead.AtJobs(options.Folder);
        // No settings from files or the environment: whoever can write there could open the desk to the network.
        var builder = WebApplication.CreateEmptyBuilder(new() { ApplicationName = typeof(DeskServer).Assembly.GetName().Name });
        builder.WebHost.UseKestrelCore().ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            kestrel.Limits.MaxRequestBodySize = MostBytes;
            kestrel.Listen(IPAddress.Loopback, options.Port);
            if (options.Share)
            {
                kestrel.Listen(options.ShareAddress, options.SharePort, Door);
            }
        });
        builder.Logging.ClearProviders();
        var services = builder.Services;
        services.AddRouting();
        services.AddSingleton(options.Time);
        services.AddSingleton(new Shop(options.Folder));
        services.AddSingleton<Searches>();
        services.AddSingleton<Plans>();
        services.AddSingleton<EntryTokens>();
        services.AddSingleton<PairTokens>();
        services.AddSingleton<SawBook>();
        services.AddSingleton<PartsDesk>();
        services.AddSingleton<ShopTexts>();
        services.AddSingleton<JobDesk>();
        services.AddSingleton<RestRoom>();
        services.AddSingleton<RackRoom>();
        services.AddSingleton<OrderRoom>();
        services.AddSingleton<VariantRoom>();
        services.AddSingleton<TogetherRoom>();
        services.AddSingleton(provider => new Devices(Path.Combine(Shop.DataFolder(options.Folder), "devices.json"), provider.GetRequiredService<TimeProvider>()));
        services.AddAuthentication(DeviceCookie.Scheme).AddScheme<DeviceCookie.Settings, DeviceCookie>(DeviceCookie.Scheme, null);
        // Closed unless a page says otherwise: a new page is safe by default.
        services.AddAuthorizationBuilder().SetFallbackPolicy(DeviceCookie.SignedIn).SetDefaultPolicy(DeviceCookie.SignedIn);
        services.AddAntiforgery(antiforgery =>
        {
            antiforgery.Cookie.Name = "nest-form";
            antiforgery.Cookie.SameSite = Microsoft.AspNetCore.Http.SameSiteMode.Strict;
            antiforgery.SuppressXFrameOptionsHeader = true;
        });
        services.AddRazorComponents().AddInteractiveServerComponents();
        services.AddCascadingAuthenticationState();
        services.AddScoped<Microsoft.AspNetCore.Components.Server.Circuits.CircuitHandler, OpenPages>();
        // Forms and circuits end with the program; only the devices live on.
        services.AddDataProtection().UseEphemeralDataProtectionProvider();

        _app = builder.Build();
        _app.UseMiddleware<SafeHeaders>();
        _app.UseMiddleware<KnownHosts>();
        _app.UseMiddleware<OwnPagesOnly>();
        _app.UseRouting();
        _app.UseMiddleware<SharedDoor>();
        _app.UseAuthentication();
        _app.UseAuthorization();
        _app.UseAntiforgery();
        Entrance.Map(_app);
        Assets.Map(_app);
        Pictures.Map(_app);
        WrittenFiles.Map(_app);
        SawPages.Map(_app);
        MiscutPage.Map(_app);
        RestPage.Map(_app);
        PiecePage.Map(_app);
        RackLabels.Map(_app);
        _app.MapRazorComponents<App>().AddInteractiveServerRenderMode(mode => mode.ContentSecurityFrameAncestorsPolicy = "'none'");
    }

    /// <summary>Where the pages are, once started: http://127.0.0.1:port.</summary>
    public Uri Address { get; private set; } = new("http://127.0.0.1");

    /// <summary>Where phones and tablets of the shop's network ask; null: not shared.</summary>
    public Uri? SharedAddress => Services.GetRequiredService<Shop>().SharedAddress("/") is { } address ? new(address) : null;

    /// <summary>For tests: what answers to whom.</summary>
    internal IServiceProvider Services => _app.Services;

    /// <summary>An address that lets one browser in, once, within two minutes.</summary>
    public Uri NewEntry() => new(Address, "/enter?token=" + Services.GetRequiredService<EntryTokens>().New());

    /// <exception cref="IOException">The port is taken.</exception>
    public async Task StartAsync(CancellationToken cancel = default)
    {
        Directory.CreateDirectory(Shop.DataFolder(_options.Folder));
        _pageAhead = LookAhead.AtPage(Services);
        await _app.StartAsync(cancel).ConfigureAwait(false);
        var addresses = _app.Services.GetRequiredService<IServer>().Features.GetRequiredFeature<IServerAddressesFeature>().Addresses;
        Address = new(addresses.First());
        var shop = Services.GetRequiredService<Shop>();
        shop.Port = Address.Port;
        if (_options.Share)
        {
            (shop.SharedPort, shop.SharedSafely, shop.SharedHosts) = (new Uri(addresses.Last()).Port, _options.Certificate is not null, SharedDoor.HostNames(_options.ShareAddress));
        }
    }

    private void Door(Microsoft.AspNetCore.Server.Kestrel.Core.ListenOptions listen)
    {
        SharedDoor.MarkConnections(listen);
        if (_options.Certificate is { } file)
        {
            // Read back as PKCS 12: with a key that lives in memory only, TLS fails on Windows.
            using var read = X509Certificate2.CreateFromPemFile(file);
            listen.UseHttps(X509CertificateLoader.LoadPkcs12(read.Export(X509ContentType.Pkcs12), null));
        }
    }

    public Task StopAsync(CancellationToken cancel = default) => _app.StopAsync(cancel);

    public async ValueTask DisposeAsync()
    {
        Services.GetRequiredService<Searches>().StopAll();
        await Task.WhenAll(_jobsAhead, _pageAhead).ConfigureAwait(false);
        await _app.DisposeAsync().ConfigureAwait(false);
    }
}
