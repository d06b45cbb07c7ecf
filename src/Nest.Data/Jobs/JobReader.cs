using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Csv;
using Nest.Data.Jobs;
using Nest.Data.Parts;
using Nest.Data.Stocks;
using Nest.Data.Toml;

namespace Nest.Data;

/// <summary>Reads a job: a job file (TOML) with the files it names, or a bare parts list (CSV) on the starter catalogue and the
/// default shop. Everything that is wrong is told at once; bad input never throws.</summary>
public static class JobReader
{
    public static ReadResult<JobInput> Read(string path)
    {
        var findings = new FindingList();
        var kind = Path.GetExtension(path).ToLowerInvariant();
        JobInput? input = null;
        if (Directory.Exists(path) || kind is ".toml")
        {
            input = TextFile.Read(path, "a job file", findings) is { } text ? new JobFile(path, findings).Read(text) : null;
        }
        else if (kind is ".csv" or ".tsv" or ".txt")
        {
            input = TextFile.Read(path, "a parts list", findings) is { } text ? ReadBare(path, text, findings) : null;
        }
        else
        {
            findings.Error("file-kind", new(path), "this is neither a job file nor a parts list", "name a file that ends in .toml or .csv");
        }

        return findings.Result(input);
    }

    private static JobInput? ReadBare(string path, string text, FindingList findings)
    {
        if (CsvTable.Read(text, path, PartsReader.Columns, findings) is not { } table)
        {
            return null;
        }

        var unit = PartsReader.IsInInches(table) ? LengthUnit.Inch : LengthUnit.Millimetre;
        var shop = new JobFile(path, findings);
        return shop.Build(table, new JobHead { Name = Path.GetFileNameWithoutExtension(path), Unit = unit, Currency = unit == LengthUnit.Inch ? "USD" : "EUR" });
    }
}
