using System.Diagnostics;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using Nest.Core.Plans;
using Nest.Desk.Model;
using Nest.Planning;
using Nest.Rack;
using Nest.Tests.Desk;
using Xunit.Abstractions;

namespace Nest.Browser;

/// <summary>Makes the pictures of README anew from the example: NEST_PICTURES=FOLDER with the folder of the example, NEST_LONG=1. pdftoppm draws the sheet.</summary>
public sealed class ReadmePicturesTest(OpenBrowser browser, ITestOutputHelper output) : IClassFixture<OpenBrowser>
{
    [LongFact]
    public async Task Pictures_of_the_pages_and_of_a_cut_sheet()
    {
        if (Environment.GetEnvironmentVariable("NEST_PICTURES") is not { Length: > 0 } pictures)
        {
            output.WriteLine("NEST_PICTURES names no folder: no pictures were made");
            return;
        }

        var example = Path.GetDirectoryName(Path.GetFullPath(pictures))!;
        await using var desk = await OpenDesk.SharedAsync([.. Directory.EnumerateFiles(example).Where(file => Path.GetExtension(file) is ".toml" or ".csv").Select(file => ("cargo-bike/" + Path.GetFileName(file), File.ReadAllText(file)))]);
        foreach (var book in Directory.EnumerateFiles(example, "*.xlsx"))
        {
            File.Copy(book, Path.Combine(desk.Folder, "cargo-bike", Path.GetFileName(book)));
        }

        var services = desk.Server.Services;
        var job = services.GetRequiredService<Shop>().Job("cargo-bike")!;
        var given = Planner.Read(job.File).Value!;
        var plan = Planner.Plan(given, new() { Work = 30_000, Threads = 2 }).Plan!;
        Planner.Write(plan, job.Output, new());
        using (var rack = RackStore.Open(Path.Combine(desk.Folder, "rack.db")))
        {
            rack.Learn(plan.Job.Materials);
        }

        Directory.CreateDirectory(pictures);
        var page = await browser.PageAsync(1100, 820);
        await page.GotoAsync(desk.Server.NewEntry().ToString());
        await page.GetByRole(AriaRole.Button, new() { Name = "Open" }).ClickAsync();
        foreach (var (name, path) in new[] { ("desk-parts", Addresses.Parts(job.Name)), ("desk-plan", Addresses.Plan(job.Name)), ("desk-order", Addresses.Order(job.Name)) })
        {
            await page.GotoAsync(new Uri(desk.Server.Address, path).ToString());
            await page.Locator("fieldset.live:not([disabled])").WaitForAsync();
            if (name == "desk-plan")
            {
                await page.Locator(".facts").ScrollIntoViewIfNeededAsync();
                await page.WaitForFunctionAsync("() => [...document.querySelectorAll('.layouts img')].slice(0, 3).every(picture => picture.complete)");
            }

            // Without the bar above, which has the name of the folder: here a temporary one.
            await page.ScreenshotAsync(new() { Path = Path.Combine(pictures, name + ".png"), Clip = new() { X = 0, Y = 72, Width = 1100, Height = 748 } });
        }

        await page.SetViewportSizeAsync(390, 760);
        var saw = new Uri(desk.Server.Address, Addresses.Tablet(job.Name, Fingerprint.Of(plan))).ToString();
        await page.GotoAsync(saw);
        var step = await page.EvaluateAsync<string>("() => [...document.querySelectorAll('.step')].find(step => step.dataset.first && step.dataset.count > 3).id");
        await page.GotoAsync(saw + "#" + step);
        await page.ReloadAsync();
        await page.ScreenshotAsync(new() { Path = Path.Combine(pictures, "saw-phone.png") });
        await page.Context.CloseAsync();

        using var draw = Process.Start("pdftoppm", ["-r", "70", "-f", "3", "-l", "3", "-singlefile", "-png", Path.Combine(job.Output, "cut-sheet.pdf"), Path.Combine(pictures, "cut-sheet")])!;
        await draw.WaitForExitAsync();
        draw.ExitCode.Should().Be(0);
        Directory.EnumerateFiles(pictures, "*.png").Should().HaveCount(5).And.OnlyContain(file => new FileInfo(file).Length < 150 * 1024);
    }
}
