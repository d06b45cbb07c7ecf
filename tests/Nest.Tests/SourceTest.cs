using Nest.Tests.Data;

namespace Nest.Tests;

/// <summary>What no analyzer looks at: the length of lines in <c>src</c>.</summary>
public class SourceTest
{
    /// <summary>Lower it as lines are wrapped. A pattern or raw text is not broken.</summary>
    private const int Longest = 300;

    [Fact]
    public void No_line_is_too_long_to_be_read()
    {
        var src = Path.Combine(Repository.Root, "src");
        var files = Directory.GetFiles(src, "*.cs", SearchOption.AllDirectories)
            .Where(file => !Path.GetRelativePath(src, file).Split(Path.DirectorySeparatorChar).Contains("obj")).ToList();
        files.Count.Should().BeGreaterThan(500);
        files.SelectMany(file => File.ReadLines(file).Select((text, at) => (text, place: $"{Path.GetRelativePath(src, file)}:{at + 1}")))
            .Where(line => line.text.Length > Longest && !line.text.Contains("\"\"\"", StringComparison.Ordinal))
            .Select(line => line.place).Should().BeEmpty();
    }
}
