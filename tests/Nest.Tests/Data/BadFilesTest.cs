using System.Text;
using Nest.Data;

namespace Nest.Tests.Data;

public sealed class BadFilesTest : IDisposable
{
    private readonly JobFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public void A_missing_file_is_told_with_near_names()
    {
        folder.Write("parts.csv", "x");
        var result = JobReader.Read(Path.Combine(folder.Root, "prats.csv"));
        JobFolder.Short(result.Findings).Should().Equal("prats.csv file-missing");
        result.Findings[0].Advice.Should().Be("did you mean 'parts.csv'?");
    }

    [Fact]
    public void A_missing_folder_is_told() =>
        JobFolder.Short(JobReader.Read(Path.Combine(folder.Root, "no", "job.toml")).Findings).Should().Equal("job.toml file-missing");

    [Fact]
    public void A_folder_is_no_file() => JobFolder.Short(JobReader.Read(folder.Root).Findings).Should().ContainSingle().Which.Should().EndWith("file-is-folder");

    [Theory]
    [InlineData("", "file-empty")]
    [InlineData(" \n\n", "file-empty")]
    public void An_empty_file_is_told(string text, string rule) => folder.Parts(text).Findings.Should().ContainSingle().Which.Rule.Should().Be(rule);

    [Fact]
    public void Another_kind_of_file_is_told() =>
        JobFolder.Short(JobReader.Read(folder.Write("parts.doc", "x")).Findings).Should().Equal("parts.doc file-kind");

    [Fact]
    public void Binary_is_told_with_its_place() =>
        JobFolder.Short(JobReader.Read(folder.Write("parts.csv", Encoding.ASCII.GetBytes("part,material\nab\0c"))).Findings)
            .Should().Equal("parts.csv:2:3 file-binary");

    [Fact]
    public void A_text_that_is_not_utf_8_is_read_as_windows_1252_and_told() =>
        JobFolder.Short(JobReader.Read(folder.Write("parts.csv", Encoding.Latin1.GetBytes(JobFolder.Head + "Längsträger,6061,120,62,8,4\n"))).Findings)
            .Should().Equal("parts.csv:2 file-encoding");

    [Fact]
    public void Utf_16_is_read()
    {
        var bytes = Encoding.Unicode.GetPreamble().Concat(Encoding.Unicode.GetBytes(JobFolder.Head + "Längsträger,6061,120,62,8,4\n")).ToArray();
        var result = JobReader.Read(folder.Write("parts.csv", bytes));
        result.Findings.Should().BeEmpty();
        result.Value!.Job.Parts[0].Id.Should().Be("Längsträger");
    }

    [Fact]
    public void A_huge_file_is_told_and_not_read()
    {
        var path = Path.Combine(folder.Root, "parts.csv");
        using (var stream = File.Create(path))
        {
            stream.SetLength(64L * 1024 * 1024);
        }

        JobFolder.Short(JobReader.Read(path).Findings).Should().Equal("parts.csv file-too-large");
    }

    [Theory]
    [InlineData("a = ", "[", "")]
    [InlineData("a = ", "{a = ", "")]
    [InlineData("", "a.", "b = 1")]
    [InlineData("[", "a.", "b]")]
    [InlineData("", "[", "")]
    public void Nesting_without_end_is_told(string before, string again, string after)
    {
        var text = before + string.Concat(Enumerable.Repeat(again, 100_000)) + after + "\n";
        var result = folder.Job(text);
        result.HasErrors.Should().BeTrue();
        result.Findings.Should().OnlyContain(finding => finding.Rule == "toml-syntax" || finding.Rule == "key-missing" || finding.Rule == "key-unknown"
            || finding.Rule == "more-findings");
    }

    [Fact]
    public void Random_bytes_never_throw()
    {
        var random = new Random(20261125);
        for (var i = 0; i < 300; i++)
        {
            var bytes = new byte[random.Next(1, 400)];
            for (var k = 0; k < bytes.Length; k++)
            {
                // Mostly printable, so that parsers are reached.
                bytes[k] = (byte)(random.Next(20) == 0 ? random.Next(256) : " \n,;\"'#=[]{}.0123456789abmt-/%"[random.Next(30)]);
            }

            JobReader.Read(folder.Write("parts.csv", bytes)).Value.Should().BeNull();
            JobReader.Read(folder.Write("job.toml", bytes)).Value.Should().BeNull();
        }
    }

    [Fact]
    public void A_good_list_with_one_byte_changed_is_read_or_refused_but_never_thrown_at()
    {
        var good = Encoding.UTF8.GetBytes("part,material,length,width,thickness,quantity\na,6061,120,62,8,4\nb,304,\"1/2\"\"\",62,8,4\n");
        var random = new Random(7);
        for (var i = 0; i < 400; i++)
        {
            var bytes = (byte[])good.Clone();
            bytes[random.Next(bytes.Length)] = (byte)random.Next(256);
            var result = JobReader.Read(folder.Write("parts.csv", bytes));
            (result.Value is null).Should().Be(result.HasErrors);
        }
    }
}
