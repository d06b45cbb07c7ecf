using System.Text.Json;
using AngleSharp.Html.Parser;
using Xunit.Abstractions;

namespace Nest.Tests.Output.Tablet;

/// <summary>The tablet page clicked through in a real browser, where there is one; where not, <see cref="TabletScriptTest"/> has run
/// the same script.</summary>
/// <remarks>Set NEST_SAMPLES to a folder to look at the pictures.</remarks>
public sealed class TabletBrowserTest(ITestOutputHelper output)
{
    private sealed record Shown(string Count, string[] Ticked, int StepsDone, string? Kept, string? Fault);

    /// <summary>Says what the page shows after <paramref name="act"/>, as JSON in an element of its own.</summary>
    private static string Probe(string act) => $$"""
        <script>
        var fault = null;
        window.confirm = function () { return true; };
        try { {{act}} } catch (e) { fault = String(e); }
        var shown = document.createElement('pre');
        shown.id = 'shown';
        shown.textContent = JSON.stringify({
          Count: document.getElementById('count').textContent,
          Ticked: Array.from(document.querySelectorAll('.tick input:checked'), function (box) { return box.id; }),
          StepsDone: document.querySelectorAll('.step.done').length,
          Kept: localStorage.getItem('nest-' + document.body.dataset.plan),
          Fault: fault });
        document.body.appendChild(shown);
        </script>
        """;

    [Fact]
    public void Ticks_live_through_a_reload_in_a_real_browser()
    {
        if (Chromium.Binary is null)
        {
            output.WriteLine("No chromium, chromium-browser or google-chrome on the path: not run in a real browser.");
            return;
        }

        output.WriteLine("Run in " + Chromium.Binary);
        var root = Directory.CreateTempSubdirectory("nest-tablet-").FullName;
        try
        {
            var html = TabletScriptTest.Html(SamplePlans.Brackets());
            var page = Path.Combine(root, "tablet.html");
            var profile = Path.Combine(root, "profile");
            Shown Open(string act)
            {
                File.WriteAllText(page, html.Replace("</body>", Probe(act) + "</body>", StringComparison.Ordinal));
                var dom = new HtmlParser().ParseDocument(Chromium.Open(profile, page, "--dump-dom"));
                var shown = dom.GetElementById("shown") ?? throw new InvalidOperationException("The page said nothing.");
                return JsonSerializer.Deserialize<Shown>(shown.TextContent)!;
            }

            var fresh = Open("");
            var all = fresh.Count.Split(' ')[2];
            fresh.Should().BeEquivalentTo(new Shown($"0 of {all} done", [], 0, null, null));

            var ticked = Open("['rack-0-0', 'l1-1-0'].forEach(function (id) { document.getElementById(id).click(); });");
            ticked.Count.Should().Be($"2 of {all} done");
            ticked.Ticked.Should().Equal("rack-0-0", "l1-1-0");
            ticked.Fault.Should().BeNull();

            var again = Open("");
            again.Should().BeEquivalentTo(ticked, "the page was closed and opened anew");

            var reset = Open("document.getElementById('reset').click();");
            reset.Should().BeEquivalentTo(new Shown($"0 of {all} done", [], 0, "{}", null));
            Open("").Should().BeEquivalentTo(reset);
        }
        finally
        {
            Directory.Delete(root, recursive: true);
        }
    }

    [Fact]
    public void Light_dark_and_print_are_drawn()
    {
        if (Chromium.Binary is null)
        {
            output.WriteLine("No chromium, chromium-browser or google-chrome on the path: no pictures of the page.");
            return;
        }

        var samples = Environment.GetEnvironmentVariable("NEST_SAMPLES");
        var root = samples is null ? Directory.CreateTempSubdirectory("nest-tablet-").FullName : Path.Combine(samples, "tablet");
        Directory.CreateDirectory(root);
        var profile = Directory.CreateTempSubdirectory("nest-profile-").FullName;
        try
        {
            var page = Path.Combine(root, "tablet.html");
            var html = TabletScriptTest.Html(SamplePlans.Brackets());
            const string tick = "<script>['rack-0-0', 'l1-1-0'].forEach(function (id) { var box = document.getElementById(id); if (!box.checked) { box.click(); } });</script>";
            File.WriteAllText(page, html.Replace("</body>", tick + "</body>", StringComparison.Ordinal));
            var light = Picture("light.png", "--window-size=820,1180");
            // Chromium's own names of the colour schemes: 0 is dark.
            var dark = Picture("dark.png", "--window-size=820,1180", "--blink-settings=preferredColorScheme=0");
            Brightness(light).Should().BeGreaterThan(200);
            Brightness(dark).Should().BeLessThan(60);
            Picture("narrow.png", "--window-size=500,900");
            Chromium.Open(profile, page, "--no-pdf-header-footer", "--print-to-pdf=" + Path.Combine(root, "print.pdf"));
            File.ReadAllBytes(Path.Combine(root, "print.pdf")).AsSpan(0, 5).SequenceEqual("%PDF-"u8).Should().BeTrue();

            byte[] Picture(string name, params string[] options)
            {
                Chromium.Open(profile, page, [.. options, "--screenshot=" + Path.Combine(root, name)]);
                return File.ReadAllBytes(Path.Combine(root, name));
            }
        }
        finally
        {
            Directory.Delete(profile, recursive: true);
            if (samples is null)
            {
                Directory.Delete(root, recursive: true);
            }
        }
    }

    /// <summary>Of the page's ground, in its upper left corner.</summary>
    private static int Brightness(byte[] png)
    {
        using var picture = SkiaSharp.SKBitmap.Decode(png);
        var ground = picture.GetPixel(2, 2);
        return (ground.Red + ground.Green + ground.Blue) / 3;
    }
}
