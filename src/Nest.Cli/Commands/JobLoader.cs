using Nest.Core.Check;
using Nest.Data;

namespace Nest.Cli.Commands;

/// <summary>Reads and checks a job for a command; what is wrong is told.</summary>
internal static class JobLoader
{
    /// <summary>Null after errors.</summary>
    public static JobInput? Load(World world, string input)
    {
        var read = JobReader.Read(input);
        Screen.Report(world.Error, read.Findings);
        if (read.Value is not { } given)
        {
            return null;
        }

        var findings = JobChecker.Check(given.Job).At(given);
        Screen.Report(world.Error, findings);
        return findings.HasErrors() ? null : given;
    }
}
