using System.Collections.Immutable;
using System.Text;
using Nest.Check;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Inputs;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Data;
using Nest.Data.Tables;
using Nest.Output;
using Nest.Output.Folders;
using Nest.Solve;
using Nest.Solve.Gangs;
using Nest.Solve.Spares;

namespace Nest.Planning;

/// <summary>The whole way of a job: read, check, size the blanks, plan, price the parts, check the plan. Command line, desk and other
/// programs stand on this.</summary>
/// <remarks>
/// Input that is wrong never throws: it comes back as findings with file, row and column. Nothing is written here but by
/// <see cref="Save"/> and <see cref="Write"/>. All methods may be called from several threads.
/// </remarks>
public static class Planner
{
    /// <summary>Reads a job file with the files that it names, or a bare parts list, and checks the job.</summary>
    /// <param name="path">A job file (.toml), its folder, or a parts list.</param>
    /// <param name="choices">What the user says of the tables where it is not found out.</param>
    /// <returns>The job; no value when any finding is an error.</returns>
    public static ReadResult<JobInput> Read(string path, TableChoices? choices = null) => Checked(JobReader.Read(path, choices));

    /// <summary>Reads a bare parts list from a stream, as <see cref="Read(string, TableChoices?)"/>.</summary>
    /// <param name="name">What findings call it.</param>
    public static ReadResult<JobInput> Read(Stream stream, string name, TableChoices? choices = null) => Checked(JobReader.Read(stream, name, choices));

    /// <summary>Reads a job with parts lists that are being changed, and tells how they were understood.</summary>
    /// <param name="drafts">Parts lists by their full path: read in place of the files.</param>
    public static PartsReading Inspect(string path, IReadOnlyDictionary<string, byte[]>? drafts = null)
    {
        var reading = JobReader.Inspect(path, null, drafts);
        var read = Checked(new(reading.Input, reading.Findings));
        return reading with { Input = read.Value, Findings = read.Findings };
    }

    private static ReadResult<JobInput> Checked(ReadResult<JobInput> read)
    {
        if (read.Value is not { } given)
        {
            return read;
        }

        var findings = given.Placed(JobChecker.Check(given.Job));
        return new(findings.HasErrors() ? null : given, [.. read.Findings, .. findings]);
    }

    /// <summary>The blank of each part with every stock that serves it, in the order of the parts.</summary>
    public static ImmutableArray<Blank> Blanks(Job job) => BlankSizer.Size(job);

    /// <summary>Plans a job that was read.</summary>
    public static PlanResult Plan(
        JobInput given, PlanOptions? options = null, Action<SolveProgress>? progress = null, CancellationToken cancel = default)
    {
        options ??= new();
        return Plan(
            given.Job, options with { Seconds = options.Seconds ?? given.Seconds, Seed = options.Seed ?? given.Seed }, progress, cancel);
    }

    /// <summary>Plans a job: checks it, searches, prices the parts and has the plan checked.</summary>
    /// <param name="progress">Called with each better plan or bound, from several threads; it must return soon.</param>
    /// <param name="cancel">Ends the search with the best plan so far, before there is one with the first. Nothing is thrown.</param>
    public static PlanResult Plan(
        Job job, PlanOptions? options = null, Action<SolveProgress>? progress = null, CancellationToken cancel = default)
    {
        options ??= new();
        var findings = JobChecker.Check(job);
        if (findings.HasErrors())
        {
            return new(null, findings, false);
        }

        var blanks = BlankSizer.Size(job);
        var plan = GangOptions.IsOpen(job) ? GangSolver.Solve(job, Limits(options), progress, cancel) : JobSolver.Solve(job, blanks, Limits(options), progress, cancel);
        blanks = GangOptions.IsOpen(job) ? BlankSizer.Size(plan.Job) : blanks;
        plan = FreeSpares.Lay(plan with { PartCosts = CostSheet.PartCosts(plan.Job, blanks, plan.Layouts) }, blanks);
        var refused = PlanChecker.Check(plan);
        return refused.HasErrors() ? new(null, refused, true) : new(plan, findings, false);
    }

    /// <summary>As <see cref="Plan(Job, PlanOptions?, Action{SolveProgress}?, CancellationToken)"/>, beside the caller's own work.</summary>
    /// <param name="progress">Called in the caller's context.</param>
    public static Task<PlanResult> PlanAsync(
        Job job, PlanOptions? options = null, IProgress<SolveProgress>? progress = null, CancellationToken cancel = default) =>
        // A long search would block a thread of the pool, and a request to end it still gives a plan: the token is not the task's.
        Task.Factory.StartNew(
            () => Plan(job, options, progress is null ? null : progress.Report, cancel),
            CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default);

    /// <summary>Recomputes a plan from itself alone.</summary>
    /// <returns>What is wrong with it; no errors when it may be cut by.</returns>
    public static ImmutableArray<Finding> Check(Plan plan) => PlanChecker.Check(plan);

    /// <summary>Reads a plan file and has the plan checked.</summary>
    /// <returns>The plan; no value when it is no plan (not <see cref="PlanResult.Refused"/>) or does not pass the check.</returns>
    public static PlanResult Load(string path)
    {
        var read = PlanFile.Read(path);
        if (read.Value is not { } plan)
        {
            return new(null, read.Findings, false);
        }

        var findings = PlanChecker.Check(plan);
        return findings.HasErrors() ? new(null, findings, true) : new(plan, read.Findings, false);
    }

    /// <summary>Writes the plan file, reads it back and compares.</summary>
    /// <returns>Why it could not be written; empty when it was.</returns>
    public static ImmutableArray<Finding> Save(Plan plan, string path) => PlanFile.Write(plan, path);

    /// <summary>Writes the plan's folder, the plan file with it, whole and at once, and reads the plan file back.</summary>
    /// <param name="replace">Whether a plan there that is in use (reserved, ordered) may be replaced.</param>
    /// <exception cref="FolderException">The folder is in use, or the plan did not read back; it holds what it held before.</exception>
    /// <exception cref="IOException">The disk is full, or the folder cannot be written; it holds what it held before.</exception>
    public static OutputResult Write(Plan plan, string folder, OutputOptions options, bool replace = false)
    {
        var text = PlanFile.ToText(plan);
        return OutputFolder.Write(plan, folder, options, [(OutputFolder.PlanPlace, Encoding.UTF8.GetBytes(text))], replace, made =>
        {
            // A plan that does not come back whole must not look like one: either the disk or this program is at fault.
            var back = PlanFile.Read(Path.Combine(made, OutputFolder.PlanPlace));
            if (back.Value is null || PlanFile.ToText(back.Value) != text)
            {
                throw new FolderException($"the plan file was written but does not read back ({back.Findings.FirstOrDefault()?.Message ?? "it differs"}) — check the disk, and report this");
            }
        });
    }

    /// <summary>The limits of the search that these options ask for.</summary>
    public static SolveLimits Limits(PlanOptions options) => new()
    {
        Seconds = options.Work is null ? options.Seconds ?? PlanOptions.DefaultSeconds : PlanOptions.Guard,
        Work = options.Work,
        Seed = options.Seed ?? 1,
        Threads = options.Threads ?? Environment.ProcessorCount,
    };
}
