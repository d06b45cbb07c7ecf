using Nest.Core.Jobs;
using Nest.Core.Texts;

namespace Nest.Tests.Intake;

/// <summary>Small files, each with one quirk or fault: what is read, and every message with place, cause and remedy.</summary>
public sealed class IntakeCasesTest
{
    public static TheoryData<string> Cases => [.. Directory.GetFiles(IntakeCase.Folder).Select(file => Path.GetFileName(file)!).Order(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(Cases))]
    public void A_small_file_is_read_or_refused_as_expected(string file)
    {
        var one = IntakeCase.Read(file);
        var answer = PlainText.Visible(one.Answer());
        if (Environment.GetEnvironmentVariable("NEST_APPROVE") is { Length: > 0 } folder)
        {
            // Writes what is answered, to be looked over before it is committed.
            var text = File.ReadAllText(Path.Combine(folder, file));
            File.WriteAllText(Path.Combine(folder, file), text[..(text.IndexOf("--- expected\n", StringComparison.Ordinal) + 13)] + answer);
            return;
        }

        answer.Should().Be(one.Expected, one.Caption);
        foreach (var line in answer.Split('\n').Where(line => line.StartsWith("error ", StringComparison.Ordinal)))
        {
            line.Should().MatchRegex(@"^error [a-z0-9-]+ at .+?: .{8,} — .{8,}$", "place, cause and remedy");
        }
    }

    [Fact]
    public void There_are_eighty() => Cases.Count.Should().BeGreaterThanOrEqualTo(80);
}
