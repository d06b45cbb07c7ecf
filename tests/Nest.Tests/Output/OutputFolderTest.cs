using Nest.Output;

namespace Nest.Tests.Output;

public sealed class OutputFolderTest
{
    /// <summary>Set NEST_SAMPLES to a folder to look at what is drawn.</summary>
    [Fact]
    public void Every_sample_is_written_and_written_again_with_the_same_bytes()
    {
        var root = Environment.GetEnvironmentVariable("NEST_SAMPLES") ?? Directory.CreateTempSubdirectory("nest-output").FullName;
        foreach (var (name, plan) in SamplePlans.All())
        {
            var folder = Path.Combine(root, name);
            // As nobody has it, so that every kind of file is drawn.
            var options = new OutputOptions { Papers = [Paper.A4, Paper.Letter], PicturesAsSvg = true };
            var result = OutputFolder.Write(plan, folder, options);
            var first = result.Files.ToDictionary(file => file, file => Convert.ToHexString(System.Security.Cryptography.SHA256.HashData(File.ReadAllBytes(Path.Combine(folder, file)))));
            result.Files.Should().Contain("data/buy.csv").And.Contain("cut-sheet-letter.pdf").And.Contain("pictures/layout-001.png");
            foreach (var (file, bytes) in OutputFolder.Contents(plan, options))
            {
                Convert.ToHexString(System.Security.Cryptography.SHA256.HashData(bytes)).Should().Be(first[file], file);
            }

            using var text = new StringWriter();
            PlanSummary.Write(plan, text, new OutputOptions());
            PlanScreen.Write(plan, text, new OutputOptions(), "out");
            File.WriteAllText(Path.Combine(folder, "summary.txt"), text.ToString());
            text.ToString().Split('\n').Should().OnlyContain(line => line.TrimEnd('\r').Length <= 100);
        }

        if (Environment.GetEnvironmentVariable("NEST_SAMPLES") is null)
        {
            Directory.Delete(root, true);
        }
    }
}
