using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Csv;
using Nest.Data.Jobs;
using Nest.Data.Models;
using Nest.Data.Parts;
using Nest.Data.Tables;

namespace Nest.Data;

/// <summary>What was read of a job or parts list, also where it is refused.</summary>
/// <param name="Tables">How each parts list was understood.</param>
/// <param name="Input">The job; null after errors.</param>
/// <param name="Findings">Errors, doubts and notes.</param>
public sealed record PartsReading(ImmutableArray<TableUnderstanding> Tables, JobInput? Input, ImmutableArray<Finding> Findings);

/// <summary>Reads a job: a job file (TOML) with the files it names, or a bare parts list (text with separators, XLSX, ODS, or pasted text)
/// on the starter catalogue and the default shop. Everything that is wrong is told at once; bad input never throws.</summary>
public static class JobReader
{
    private const string What = "a parts list";

    /// <param name="choices">What the user says of the tables.</param>
    public static ReadResult<JobInput> Read(string path, TableChoices? choices = null) => Result(Inspect(path, choices));

    /// <summary>Reads a bare parts list from a stream, such as standard input or what was sent to a page.</summary>
    /// <param name="name">Name in messages, and of the job without its ending.</param>
    public static ReadResult<JobInput> Read(Stream stream, string name, TableChoices? choices = null) => Result(Inspect(stream, name, choices));

    /// <summary>Reads a job and tells how its parts lists were understood, also where something is wrong with them.</summary>
    /// <param name="path">A job file, the folder of a <c>job.toml</c>, or a parts list.</param>
    /// <param name="drafts">Parts lists of a job file that are being changed, by their full path: read in place of the files.</param>
    public static PartsReading Inspect(string path, TableChoices? choices = null, IReadOnlyDictionary<string, byte[]>? drafts = null)
    {
        var findings = new FindingList();
        var said = choices ?? TableChoices.None;
        if (!KnownColumns.Check(said, findings))
        {
            return new([], null, findings.ToImmutable());
        }

        // The folder of a job stands for the job.
        if (Directory.Exists(path) && Path.Combine(path, "job.toml") is var inside && File.Exists(inside))
        {
            path = inside;
        }

        said = ShopNames.For(path, said, findings);
        if (ModelJob.IsOne(path))
        {
            return new ModelJob(path, said, findings).Read();
        }

        if (Directory.Exists(path) || Path.GetExtension(path).Equals(".toml", StringComparison.OrdinalIgnoreCase))
        {
            var job = new JobFile(path, said, findings, drafts);
            var input = TextFile.Read(path, "a job file", findings) is { } text ? job.Read(text) : null;
            return Reading(job, input, findings);
        }

        if (TableSource.IsTable(path))
        {
            // What the list stands on is read meanwhile, for the unit that most lists are in: a tenth of the time for a long list.
            var likely = said.Unit ?? LengthUnit.Millimetre;
            var (job, found) = (new JobFile(path, said, findings), new FindingList());
            var starter = Task.Run(() => job.ReadStarter(likely, found));
            var table = CsvTable.ReadFile(path, What, PartsReader.Columns, said, findings);
            var rules = starter.GetAwaiter().GetResult();
            findings.Take(found);
            return Bare(table, path, said, findings, (job, likely, rules));
        }

        findings.Error("file-kind", new(path), "this is neither a job file nor a parts list", "name a file that ends in .toml, .csv, .xlsx or .ods, a model (.stl, .3mf, .obj, .step, .dxf), or - for a table that is piped in");
        return new([], null, findings.ToImmutable());
    }

    /// <summary>As <see cref="Inspect(string, TableChoices?, IReadOnlyDictionary{string, byte[]}?)"/>, of a bare parts list from a stream.</summary>
    public static PartsReading Inspect(Stream stream, string name, TableChoices? choices = null)
    {
        var findings = new FindingList();
        var said = choices ?? TableChoices.None;
        var known = KnownColumns.Check(said, findings);
        said = name == TableSource.Pasted ? ShopNames.For(name, said, findings) : said;
        var bytes = known ? TextFile.ReadBytes(stream, name, What, findings) : null;
        return Bare(bytes is null ? null : CsvTable.Read(bytes, name, What, PartsReader.Columns, said, findings), name, said, findings);
    }

    private static ReadResult<JobInput> Result(PartsReading reading) => new(reading.Input, reading.Findings);

    private static PartsReading Reading(JobFile job, JobInput? input, FindingList findings) =>
        new(job.Lists, findings.Errors == 0 ? input : null, findings.ToImmutable());

    /// <param name="early">A job whose starter was read already, for this unit; null: none was.</param>
    private static PartsReading Bare(CsvTable? table, string name, TableChoices said, FindingList findings, (JobFile Job, LengthUnit Unit, ShopRules Rules)? early = null)
    {
        if (table is null)
        {
            return new([], null, findings.ToImmutable());
        }

        var unit = FoundUnit.Of(table, PartColumns.Sizes, null).Unit;
        var stem = Path.GetFileNameWithoutExtension(name);
        var ready = early?.Unit == unit;
        var job = ready ? early!.Value.Job : new JobFile(name, said, findings);
        var input = job.Build(table, new JobHead
        {
            Name = stem.Length > 1 ? stem.Length > TableLimits.Name ? stem[..TableLimits.Name] : stem : "parts", Unit = unit, Currency = unit == LengthUnit.Inch ? "USD" : "EUR", Tables = said,
        }, null, ready ? early!.Value.Rules : null);
        return Reading(job, input, findings);
    }
}
