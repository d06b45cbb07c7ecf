using Nest.Core.Jobs;
using Nest.Data;

namespace Nest.Tests.Data;

/// <summary>A folder with the files of a job, gone after the test.</summary>
internal sealed class JobFolder : IDisposable
{
    public const string Head = "part,material,length (mm),width (mm),thickness (mm),quantity\n";

    public string Root { get; } = Directory.CreateTempSubdirectory("nest-test-").FullName;

    public string Write(string name, string text)
    {
        var path = Path.Combine(Root, name);
        File.WriteAllText(path, text);
        return path;
    }

    public string Write(string name, byte[] bytes)
    {
        var path = Path.Combine(Root, name);
        File.WriteAllBytes(path, bytes);
        return path;
    }

    /// <summary>Reads a bare parts list.</summary>
    public ReadResult<JobInput> Parts(string text) => JobReader.Read(Write("parts.csv", text));

    /// <summary>Reads a job file beside the files written before.</summary>
    public ReadResult<JobInput> Job(string text) => JobReader.Read(Write("job.toml", text));

    /// <summary>Findings as "file:row:column rule", paths cut to the file's name.</summary>
    public static IEnumerable<string> Short(IEnumerable<Finding> findings) => findings
        .Select(finding => $"{finding.Where with { File = Path.GetFileName(finding.Where.File) }} {finding.Rule}");

    public void Dispose() => Directory.Delete(Root, recursive: true);
}
