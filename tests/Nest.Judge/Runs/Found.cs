using Nest.Core.Jobs;
using Nest.Judge.Jobs;

namespace Nest.Judge.Runs;

/// <summary>Keeps a contradiction: the job as files, and what is wrong.</summary>
internal static class Found
{
    public static void Keep(string folder, string name, Job job, string how, IEnumerable<string> wrong)
    {
        var place = Path.Combine(folder, name);
        JobFolder.Write(job, place);
        File.WriteAllText(
            Path.Combine(place, "WHY.md"),
            $"# {name}\n\nFound with `{how}`.\n\n{string.Concat(wrong.Select(one => $"- {one}\n"))}");
    }
}
