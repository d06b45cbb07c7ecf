using System.Text.Json;
using Microsoft.Playwright;
using Nest.Core.Cutting;
using Nest.Core.Plans;
using Nest.Output;
using Nest.Output.Tablet;
using Nest.Tests.Output;

namespace Nest.Browser;

/// <summary>The tablet page as a file, clicked through in a real browser.</summary>
public sealed class TabletPageTest(OpenBrowser browser) : IClassFixture<OpenBrowser>, IDisposable
{
    private static readonly (int Width, int Height)[] Screens = [(1024, 768), (390, 844)];

    private readonly string _folder = Directory.CreateTempSubdirectory("nest-tablet-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [BrowserFact]
    public async Task Every_step_fits_the_screen_with_targets_for_a_finger_and_large_digits()
    {
        foreach (var (name, plan) in Plans())
        {
            var file = Write(name, plan);
            foreach (var (width, height) in Screens)
            {
                var page = await browser.PageAsync(width, height, touch: true);
                await page.GotoAsync(file);
                var steps = (await page.EvaluateAsync<JsonElement>(Walk)).Deserialize<Seen[]>(JsonSerializerOptions.Web)!;
                steps.Should().HaveCountGreaterThan(5);
                foreach (var seen in steps)
                {
                    var where = $"{name}, {width} × {height}, {seen.Step}";
                    seen.Taller.Should().BeEmpty(where);
                    seen.Small.Should().BeEmpty(where);
                    (seen.Digits ?? 96).Should().BeGreaterThanOrEqualTo(96, where);
                    (seen.Cut && !seen.Lit).Should().BeFalse(where);
                }

                steps.Should().Contain(seen => seen.Digits != null && seen.Cut);
                await PicturesAsync(page, $"tablet-{name}-{width}");
                await page.Context.CloseAsync();
            }
        }
    }

    [BrowserFact]
    public async Task Cuts_are_counted_kept_and_a_wrong_clearing_is_undone()
    {
        var file = Write("plan", SamplePlans.Brackets());
        var page = await browser.PageAsync(1024, 768);
        await page.GotoAsync(file);
        var step = await page.EvaluateAsync<string>("() => [...document.querySelectorAll('.step')].find(step => step.dataset.first && step.dataset.count > 3).id");
        await page.GotoAsync("about:blank");
        await page.GotoAsync(file + "#" + step);
        var count = page.Locator("#count");
        var more = page.GetByRole(AriaRole.Button, new() { Name = "+1" });
        (await count.InnerTextAsync()).Should().StartWith("0 / ");
        var most = int.Parse((await count.InnerTextAsync()).Split('\n')[0].Split(' ')[2], System.Globalization.CultureInfo.InvariantCulture);
        most.Should().BeGreaterThan(3);
        await more.ClickAsync();
        await more.ClickAsync();
        await more.ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "−1" }).ClickAsync();
        (await count.InnerTextAsync()).Should().StartWith($"2 / {most}");

        // Closed and opened anew, the same step is there with its count.
        await page.GotoAsync("about:blank");
        await page.GotoAsync(file);
        (await count.InnerTextAsync()).Should().StartWith($"2 / {most}");

        await page.GetByRole(AriaRole.Button, new() { Name = "all" }).ClickAsync();
        (await count.InnerTextAsync()).Should().StartWith($"{most} / {most}");
        (await more.IsDisabledAsync()).Should().BeTrue();
        await page.GetByRole(AriaRole.Button, new() { Name = "Undo" }).ClickAsync();
        (await count.InnerTextAsync()).Should().StartWith($"2 / {most}");

        await page.GetByRole(AriaRole.Button, new() { Name = "List" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Clear all" }).ClickAsync();
        (await Kept(page)).Should().OnlyContain(one => one.Value == 0);
        await page.GetByRole(AriaRole.Button, new() { Name = "Undo" }).ClickAsync();
        (await Kept(page)).Values.Sum().Should().Be(2);
        await page.Context.CloseAsync();
    }

    [BrowserFact]
    public async Task The_first_open_step_is_of_the_layout_in_hand_and_what_is_done_folds()
    {
        var file = Write("plan", SamplePlans.Brackets());
        var page = await browser.PageAsync(390, 844);
        await page.GotoAsync(file + "#layout-5");
        // Nothing of the lists to fetch was ticked: that does not matter to somebody at the saw.
        (await Here(page)).Should().StartWith("l5-");
        var first = await Here(page);
        await page.Locator("#next").ClickAsync();
        await page.Locator("#first").ClickAsync();
        (await Here(page)).Should().Be(first);

        await page.EvaluateAsync("() => { const all = {}; document.querySelectorAll('#layout-5 .step').forEach(step => { all[step.id] = +step.dataset.count; }); localStorage.setItem('nest-' + document.body.dataset.plan, JSON.stringify(all)); }");
        await page.ReloadAsync();
        await page.Locator("#view").ClickAsync();
        (await page.Locator("#layout-5").GetAttributeAsync("class")).Should().Contain("folded");
        (await page.Locator("#layout-5 .state").InnerTextAsync()).Should().Contain("done");
        await page.Locator("#layout-5 .head").ClickAsync();
        (await page.Locator("#layout-5").GetAttributeAsync("class")).Should().NotContain("folded");
        await OpenBrowser.PictureAsync(page, "tablet-list-390");
        await page.Context.CloseAsync();
    }

    [BrowserFact]
    public async Task What_is_kept_may_be_damaged()
    {
        var plan = SamplePlans.HugeAndTiny();
        var file = Write("damaged", plan);
        var page = await browser.PageAsync(390, 844);
        await page.GotoAsync(file);
        foreach (var kept in new[] { "not JSON", "null", "7", "{\"no-such-step\":1,\"read-0\":\"x\"}" })
        {
            await page.EvaluateAsync("kept => localStorage.setItem('nest-' + document.body.dataset.plan, kept)", kept);
            await page.ReloadAsync();
            await page.Locator("#more").ClickAsync();
            (await page.Locator("#less").IsDisabledAsync()).Should().BeFalse(kept);
        }

        await page.Context.CloseAsync();
    }

    private sealed record Seen(string Step, string[] Taller, string[] Small, double? Digits, bool Cut, bool Lit);

    /// <summary>What of a step is beyond the screen, which targets are below 44 px, how large the digits are, and whether its cut is lit within the picture.</summary>
    private const string Walk = """
        () => {
          const all = [], next = document.getElementById('next');
          for (;;) { all.push(look()); if (next.disabled) { return all; } next.click(); }
          function look() {
          const step = document.querySelector('.step.here'), tall = innerHeight, wide = innerWidth, lit = step.parentNode.querySelector('.cut.now');
          const shown = node => { const box = node.getBoundingClientRect(); return box.width > 0 && box.height > 0; };
          const beyond = [...document.querySelectorAll('body.one .here, body.one .here p, body.one .here .figure span, body.one .pic, body.one button, body.one #count')].filter(shown).filter(node => {
            const box = node.getBoundingClientRect();
            return box.bottom > tall + 0.5 || box.right > wide + 0.5 || box.left < -0.5 || box.top < -0.5;
          }).map(node => node.id + '.' + node.className + ' ' + JSON.stringify(node.getBoundingClientRect()));
          const main = document.querySelector('main');
          if (main.scrollHeight > main.clientHeight + 1) { beyond.push('main scrolls: ' + main.scrollHeight + ' in ' + main.clientHeight); }
          const small = [...document.querySelectorAll('button, a')].filter(shown).filter(node => { const box = node.getBoundingClientRect(); return box.width < 44 || box.height < 44; }).map(node => node.id + ' ' + node.textContent);
          const number = step.querySelector('.figure:not(.words) .num');
          const inside = lit && (() => { const box = lit.getBoundingClientRect(), frame = lit.ownerSVGElement.parentNode.getBoundingClientRect(); return box.top >= frame.top - 3 && box.bottom <= frame.bottom + 3 && box.left >= frame.left - 3 && box.right <= frame.right + 3; })();
          return { step: step.id, taller: beyond, small, digits: number ? parseFloat(getComputedStyle(number).fontSize) : null, cut: !!step.dataset.first, lit: !!inside };
          }
        }
        """;

    private static async Task PicturesAsync(IPage page, string name)
    {
        if (OpenBrowser.Samples is null)
        {
            return;
        }

        await page.ReloadAsync();
        for (var step = 0; step < 100; step++)
        {
            await OpenBrowser.PictureAsync(page, $"{name}-{step:000}");
            if (await page.Locator("#back").IsDisabledAsync())
            {
                return;
            }

            await page.Locator("#back").ClickAsync();
        }
    }

    private static IEnumerable<(string Name, Plan Plan)> Plans()
    {
        yield return ("brackets", SamplePlans.Brackets());
        yield return ("inches", SamplePlans.Inches());
        yield return ("tiny", SamplePlans.HugeAndTiny());
    }

    private static async Task<string> Here(IPage page) => await page.EvaluateAsync<string>("() => document.querySelector('.step.here').id");

    private static async Task<Dictionary<string, int>> Kept(IPage page) =>
        JsonSerializer.Deserialize<Dictionary<string, int>>(await page.EvaluateAsync<string>("() => localStorage.getItem('nest-' + document.body.dataset.plan)"))!;

    private string Write(string name, Plan plan)
    {
        var path = Path.Combine(_folder, name + ".html");
        File.WriteAllBytes(path, TabletServed.File(plan, new() { Work = CutSequencer.Order(plan) }));
        return new Uri(path).AbsoluteUri;
    }
}
