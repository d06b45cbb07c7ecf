using System.Globalization;

namespace Nest.EndToEnd;

/// <summary>The same input gives the same bytes whatever the machine's language, and wherever input and output lie.</summary>
public class RepeatableTest(RepeatableTest.AtHome home) : IClassFixture<RepeatableTest.AtHome>
{
    private const string Parts = "part;material;length;width;thickness;quantity;forms\nlug;6082-T6;50,5;30;8;12;any\nfoot;6082-T6;120;80,25;8;7;plate\n";

    /// <summary>German and Turkish differ in decimal mark and in the letter i; Saudi Arabia has another calendar and another minus sign.</summary>
    [Theory]
    [InlineData("de-DE")]
    [InlineData("tr-TR")]
    [InlineData("ar-SA")]
    public void Culture_and_folder_change_no_byte(string culture)
    {
        using var run = new Run();
        Directory.CreateDirectory(run.Path("ein Ordner/ışık"));
        var (before, ofThreads) = (CultureInfo.CurrentCulture, CultureInfo.DefaultThreadCurrentCulture);
        try
        {
            CultureInfo.CurrentCulture = CultureInfo.DefaultThreadCurrentCulture = new(culture);
            var there = Plan(run, run.Write("ein Ordner/ışık/parts.csv", Parts), "ein Ordner/Ausgabe");
            there.Keys.Should().BeEquivalentTo(home.Files.Keys);
            foreach (var (name, bytes) in home.Files)
            {
                there[name].AsSpan().SequenceEqual(bytes).Should().BeTrue(name);
            }
        }
        finally
        {
            (CultureInfo.CurrentCulture, CultureInfo.DefaultThreadCurrentCulture) = (before, ofThreads);
        }
    }

    /// <summary>The plan under the invariant culture, which each of the others is compared with; made once.</summary>
    public sealed class AtHome
    {
        public AtHome()
        {
            using var run = new Run();
            Files = Plan(run, run.Write("parts.csv", Parts), "out");
        }

        internal IReadOnlyDictionary<string, byte[]> Files { get; }
    }

    private static Dictionary<string, byte[]> Plan(Run run, string file, string folder)
    {
        run.Nest("plan", file, "--unit", "mm", "--out", run.Path(folder), "--work", "500", "--date", "2026-11-28").Should().Be(0, run.Error);
        return Directory.GetFiles(run.Path(folder), "*", SearchOption.AllDirectories)
            .ToDictionary(one => Path.GetRelativePath(run.Path(folder), one), File.ReadAllBytes);
    }
}
