using System.Globalization;
using Nest.Cli;
using Nest.Core.Jobs;
using Nest.Data;
using Nest.Judge.Enumeration;
using Nest.Judge.Jobs;

namespace Nest.Judge.Runs;

/// <summary>The way of a job through files: written as a shop would, planned and checked by the program, read back and judged.</summary>
internal static class FilesCheck
{
    /// <summary>What is wrong; empty when all holds.</summary>
    public static IReadOnlyList<string> Run(Job job, long work)
    {
        var folder = Directory.CreateTempSubdirectory("nest-judge-").FullName;
        try
        {
            JobFolder.Write(job, folder);
            var output = Path.Combine(folder, "out");
            var (code, said) = Program(
                "plan", Path.Combine(folder, "job.toml"), "--out", output, "--work", work.ToString(CultureInfo.InvariantCulture));
            if (code is not (0 or 3))
            {
                return [$"nest plan ends with {code}: {said}"];
            }

            var file = Path.Combine(output, "data", "plan.json");
            var (checkedCode, checkedSaid) = Program("check", file);
            if (checkedCode != 0)
            {
                return [$"nest check ends with {checkedCode}: {checkedSaid}"];
            }

            var plan = PlanFile.Read(file).Value!;
            return Verdict.Of(plan.Job, Optimum.Of(plan.Job), plan, plan.Bound.Value).Wrong;
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }

    private static (int Code, string Said) Program(params string[] arguments)
    {
        using var said = new StringWriter();
        var code = App.Run(arguments, new World(said, said, true, TimeProvider.System, CancellationToken.None));
        return (code, said.ToString().Trim());
    }
}
