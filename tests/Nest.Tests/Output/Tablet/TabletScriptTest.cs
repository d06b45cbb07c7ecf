using System.Globalization;
using System.Text;
using System.Text.Json;
using AngleSharp.Html.Parser;
using Nest.Core.Plans;
using Nest.Output;

namespace Nest.Tests.Output.Tablet;

/// <summary>The tablet page's own script is run and clicked through, without a browser.</summary>
public sealed class TabletScriptTest
{
    internal static string Html(Plan plan) => Encoding.UTF8.GetString(
        OutputFolder.Contents(plan, new OutputOptions { Papers = [] }).First(file => file.Name == "tablet.html").Bytes);

    [Fact]
    public void Ticks_are_kept_shown_again_and_reset()
    {
        var html = Html(SamplePlans.Brackets());
        var storage = new PageStorage();
        using var page = new PageHost(html, storage);
        var all = page.Boxes.Count;
        all.Should().BeGreaterThan(50);
        page.Boxes.Should().OnlyContain(box => !box.Checked);
        page.Count.Should().Be($"0 of {all} done");
        storage.Items.Should().BeEmpty("nothing is kept before the first tick");

        string[] ticked = [page.Boxes[0].Id, page.Boxes[2].Id, page.Boxes[all - 1].Id];
        foreach (var id in ticked)
        {
            page.Click(id);
        }

        page.Count.Should().Be($"3 of {all} done");
        Kept(storage).Should().BeEquivalentTo(ticked);

        // Ticked by mistake: off again.
        page.Click(page.Boxes[1].Id);
        page.Click(page.Boxes[1].Id);
        Kept(storage).Should().BeEquivalentTo(ticked);

        using var again = new PageHost(html, storage);
        again.Boxes.Where(box => box.Checked).Select(box => box.Id).Should().Equal(ticked);
        again.Count.Should().Be($"3 of {all} done");
        again.StepsDone.Should().Be(page.StepsDone).And.BePositive();

        // Asked first; "no" changes nothing.
        var asked = 0;
        using var cautious = new PageHost(html, storage, _ => asked++ < 0);
        cautious.Click("reset");
        (asked, cautious.Count).Should().Be((1, $"3 of {all} done"));
        Kept(storage).Should().HaveCount(3);

        using var sure = new PageHost(html, storage, question => question.Length > 0);
        sure.Click("reset");
        sure.Boxes.Should().OnlyContain(box => !box.Checked);
        (sure.Count, sure.StepsDone).Should().Be(($"0 of {all} done", 0));
        Kept(storage).Should().BeEmpty();
        using var after = new PageHost(html, storage);
        after.Count.Should().Be($"0 of {all} done");
    }

    [Fact]
    public void A_step_is_done_when_all_its_boxes_are_ticked()
    {
        // The stack of two plates of the sample: a row of the page with several cuts has a box for each.
        using var page = new PageHost(Html(SamplePlans.Brackets()), new PageStorage());
        var row = page.Boxes.GroupBy(box => box.Id[..box.Id.LastIndexOf('-')]).First(group => group.Count() > 2).ToArray();
        foreach (var box in row[..^1])
        {
            box.Click();
            box.Closest(".step")!.ClassList.Contains("done").Should().BeFalse();
        }

        row[^1].Click();
        row[0].Closest(".step")!.ClassList.Contains("done").Should().BeTrue();
        page.StepsDone.Should().Be(1);
        row[0].Click();
        page.StepsDone.Should().Be(0);
    }

    [Fact]
    public void Next_goes_to_the_first_open_box()
    {
        using var page = new PageHost(Html(SamplePlans.Inches()), new PageStorage());
        page.Boxes[0].Click();
        page.Boxes[1].Click();
        page.Boxes[3].Click();
        page.Click("next");
        page.Focused.Should().BeSameAs(page.Boxes[2]);
        page.Scrolled.Should().BeSameAs(page.Boxes[2].Closest(".step"));

        foreach (var box in page.Boxes.Where(box => !box.Checked))
        {
            box.Click();
        }

        page.Click("next");
        page.Focused.Should().BeSameAs(page.Boxes[2], "all is done, nothing moves");
        page.Count.Should().Be($"{page.Boxes.Count} of {page.Boxes.Count} done");
    }

    [Fact]
    public void Another_plan_has_ticks_of_its_own()
    {
        var storage = new PageStorage();
        using var page = new PageHost(Html(SamplePlans.Brackets()), storage);
        page.Boxes[0].Click();
        using var other = new PageHost(Html(SamplePlans.Inches()), storage);
        other.Boxes.Should().OnlyContain(box => !box.Checked);
        using var again = new PageHost(Html(SamplePlans.Brackets()), storage);
        again.Boxes[0].Checked.Should().BeTrue();
        storage.Items.Keys.Should().ContainSingle().Which.Should().Be("nest-" + Fingerprint.Of(SamplePlans.Brackets()));
    }

    [Theory]
    [InlineData("not JSON")]
    [InlineData("null")]
    [InlineData("{\"no-such-box\":1}")]
    public void What_is_kept_may_be_damaged(string kept)
    {
        var html = Html(SamplePlans.HugeAndTiny());
        var storage = new PageStorage();
        storage.SetItem("nest-" + Fingerprint.Of(SamplePlans.HugeAndTiny()), kept);
        using var page = new PageHost(html, storage);
        page.Boxes.Should().OnlyContain(box => !box.Checked);
        page.Boxes[0].Click();
        using var again = new PageHost(html, storage);
        again.Boxes[0].Checked.Should().BeTrue();
    }

    [Fact]
    public void Where_nothing_may_be_kept_the_page_still_ticks()
    {
        using var page = new PageHost(Html(SamplePlans.HugeAndTiny()), new PageStorage { Forbidden = true });
        page.Boxes[0].Click();
        page.Count.Should().Be($"1 of {page.Boxes.Count} done");
    }

    [Fact]
    public void Pictures_lose_their_blank_foot_and_nothing_else()
    {
        foreach (var (name, plan) in SamplePlans.All())
        {
            var pictures = new HtmlParser().ParseDocument(Html(plan)).QuerySelectorAll("svg");
            pictures.Should().HaveCountGreaterThanOrEqualTo(plan.Layouts.Length);
            foreach (var picture in pictures)
            {
                var height = double.Parse(picture.GetAttribute("viewBox")!.Split(' ')[3], CultureInfo.InvariantCulture);
                var texts = picture.QuerySelectorAll("text").Select(text => double.Parse(text.GetAttribute("y") ?? "0", CultureInfo.InvariantCulture));
                var boxes = picture.QuerySelectorAll("rect").Skip(1)
                    .Select(box => double.Parse(box.GetAttribute("y")!, CultureInfo.InvariantCulture) + double.Parse(box.GetAttribute("height")!, CultureInfo.InvariantCulture));
                var lowest = texts.Concat(boxes).Max();
                lowest.Should().BeLessThan(height, name).And.BeGreaterThan(height - 20, name);
            }
        }
    }

    private static Dictionary<string, int>.KeyCollection Kept(PageStorage storage) =>
        JsonSerializer.Deserialize<Dictionary<string, int>>(storage.Items.Should().ContainSingle().Which.Value)!.Keys;
}
