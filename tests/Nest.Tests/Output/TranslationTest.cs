using System.Net;
using System.Text;
using System.Text.RegularExpressions;
using Nest.Output;
using Nest.Output.Sheets;
using Nest.Output.Texts;

namespace Nest.Tests.Output;

/// <summary>All texts of the sheets stand in one table: with another table no English is left, and a longer language still fits.</summary>
public sealed partial class TranslationTest
{
    // Units are the same in every language (SI brochure, 9th edition, 5.2; inch-pound symbols as ISO 80000 remarks use them), money has
    // its code of ISO 4217.
    private static readonly string[] International = ["mm", "in", "kg", "lb", "g", "t", "oz", "EUR", "USD", "GBP", "CO"];

    public static TheoryData<string> Names => [.. SamplePlans.All().Select(sample => sample.Name)];

    private static OutputOptions Options => new() { Texts = DummyLanguage.Texts };

    [Theory]
    [MemberData(nameof(Names))]
    public void No_text_is_left_in_English(string name)
    {
        var plan = DummyLanguage.Greeked(Sample(name));
        var print = new SheetContext(plan, Options).Print;
        var left = SceneTest.Scenes(plan, Options).SelectMany(scene => scene.Texts)
            .SelectMany(text => Words(text.Text.Replace(print, "", StringComparison.Ordinal)).Select(word => $"{word} in '{text.Text}'"))
            .Distinct().ToArray();
        string.Join(" | ", left).Should().BeEmpty();

        var html = Encoding.UTF8.GetString(OutputFolder.Contents(plan, Options with { Papers = [] }).First(file => file.Name == "tablet.html").Bytes);
        var visible = WebUtility.HtmlDecode(Tags().Replace(Hidden().Replace(html, " "), " ")).Replace(print, "", StringComparison.Ordinal);
        Words(visible).Distinct().Should().BeEmpty("the tablet page is made of the same table");

        using var summary = new StringWriter();
        PlanSummary.Write(plan, summary, Options);
        Words(summary.ToString().Replace(print, "", StringComparison.Ordinal)).Distinct().Should().BeEmpty("so is the summary");
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void A_longer_language_neither_overlaps_nor_is_cut_off(string name)
    {
        var scenes = SceneTest.Scenes(DummyLanguage.Greeked(Sample(name)), Options).ToArray();
        SceneTest.NoOverlaps(scenes, name);

        // What a user has named may be shortened; what stands in the table is Cyrillic and may not.
        var cut = scenes.SelectMany(scene => scene.Texts)
            .Where(text => text.Text.EndsWith('…') && Cyrillic().IsMatch(text.Text) && !Greek().IsMatch(text.Text))
            .Select(text => text.Text).Distinct();
        string.Join(" | ", cut).Should().BeEmpty();
    }

    [Fact]
    public void The_table_is_whole_and_the_dummy_differs_from_it_everywhere()
    {
        DummyLanguage.Table.Should().HaveCountGreaterThan(100);
        foreach (var property in DummyLanguage.Table)
        {
            var (english, dummy) = ((string)property.GetValue(SheetTexts.English)!, (string)property.GetValue(DummyLanguage.Texts)!);
            Holes(dummy).Should().Equal(Holes(english), property.Name);
            if (Letters().IsMatch(Filled().Replace(english, "")))
            {
                dummy.Should().NotBe(english, property.Name);
            }
        }
    }

    private static Core.Plans.Plan Sample(string name) => SamplePlans.All().First(sample => sample.Name == name).Plan;

    private static IEnumerable<string> Words(string text) =>
        Letters().Matches(text).Select(match => match.Value).Where(word => !International.Contains(word) && !IsStripLetters(word));

    // After the 24th strip its letters are two: AA, AB … (as long as no plan has more than 144).
    private static bool IsStripLetters(string word) => word.Length == 2 && word[0] is >= 'A' and <= 'E' && char.IsAsciiLetterUpper(word[1]);

    private static IEnumerable<string> Holes(string text) => Filled().Matches(text).Select(match => match.Value);

    [GeneratedRegex("[A-Za-z]{2,}")]
    private static partial Regex Letters();

    [GeneratedRegex(@"\{[^}]*\}")]
    private static partial Regex Filled();

    [GeneratedRegex(@"\p{IsCyrillic}")]
    private static partial Regex Cyrillic();

    [GeneratedRegex(@"\p{IsGreek}")]
    private static partial Regex Greek();

    [GeneratedRegex("<(script|style)[^>]*>.*?</\\1>", RegexOptions.Singleline)]
    private static partial Regex Hidden();

    [GeneratedRegex("<[^>]*>", RegexOptions.Singleline)]
    private static partial Regex Tags();
}
