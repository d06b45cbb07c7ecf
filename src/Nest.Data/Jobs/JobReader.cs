using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Csv;
using Nest.Data.Jobs;
using Nest.Data.Models;
using Nest.Data.Parts;
using Nest.Data.Stocks;
using Nest.Data.Toml;

namespace Nest.Data;

/// <summary>Reads a job: a job file (TOML) with the files it names, or a bare parts list (CSV) on the starter catalogue and the
/// default shop. Everything that is wrong is told at once; bad input never throws.</summary>
public static class JobReader
{
    /// <param name="models">What is said of models: one model or a folder of them is a job as well.</param>
    public static ReadResult<JobInput> Read(string path, ModelJobChoices? models = null)
    {
        var findings = new FindingList();
        if (ModelJob.IsOne(path))
        {
            return findings.Result(new ModelJob(path, models ?? new(), findings).Read());
        }

        var kind = Path.GetExtension(path).ToLowerInvariant();
        JobInput? input = null;
        if (Directory.Exists(path) || kind is ".toml")
        {
            input = TextFile.Read(path, "a job file", findings) is { } text ? new JobFile(path, findings).Read(text) : null;
        }
        else if (kind is ".csv" or ".tsv" or ".txt")
        {
            input = TextFile.Read(path, "a parts list", findings) is { } text ? ReadBare(path, text, models ?? new(), findings) : null;
        }
        else
        {
            findings.Error("file-kind", new(path), "this is neither a job file nor a parts list", "name a file that ends in .toml or .csv, or a model (STL, 3MF, OBJ, STEP, DXF)");
        }

        return findings.Result(input);
    }

    private static JobInput? ReadBare(string path, string text, ModelJobChoices models, FindingList findings)
    {
        if (PartsReader.Table(text, path, models.Material is not null, findings) is not { } table || ModelJob.ChoicesOf(models, path, findings) is not { } with)
        {
            return null;
        }

        var unit = PartsReader.IsInInches(table) ? LengthUnit.Inch : LengthUnit.Millimetre;
        var shop = new JobFile(path, findings);
        return shop.Build(table, new JobHead { Name = Path.GetFileNameWithoutExtension(path), Unit = unit, Currency = unit == LengthUnit.Inch ? "USD" : "EUR" }, new(Path.GetDirectoryName(path) ?? "", with, findings) { Material = models.Material });
    }
}
