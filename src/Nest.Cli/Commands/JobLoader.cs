using Nest.Core.Check;
using Nest.Data;
using Nest.Data.Tables;

namespace Nest.Cli.Commands;

/// <summary>Reads and checks a job for a command; what is wrong is told.</summary>
internal static class JobLoader
{
    /// <summary>Reads a job, a parts list, or with <c>-</c> the list that is piped in.</summary>
    public static ReadResult<JobInput> Read(World world, string input, TableChoices? choices = null) =>
        input == "-" ? JobReader.Read(world.In(), "-", choices) : JobReader.Read(input, choices);

    /// <summary>Null after errors.</summary>
    public static JobInput? Load(World world, string input, TableChoices? choices = null)
    {
        var read = Read(world, input, choices);
        Screen.Report(world.Error, read.Findings);
        if (read.Value is not { } given)
        {
            return null;
        }

        var findings = JobChecker.Check(given.Job);
        Screen.Report(world.Error, findings);
        return findings.HasErrors() ? null : given;
    }
}
