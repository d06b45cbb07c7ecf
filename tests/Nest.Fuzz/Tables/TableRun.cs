using System.Diagnostics;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data;
using Nest.Data.Csv;
using Nest.Data.Parts;
using Nest.Data.Stocks;
using Nest.Data.Tables;

namespace Nest.Fuzz.Tables;

/// <summary>Reads made tables and looks for what must never be: an exception, a part that can be none, a refusal that does not help.</summary>
public sealed class TableRun
{
    private readonly MaterialBook book = new();

    public TableRun()
    {
        var findings = new FindingList();
        Starter.ReadMaterials(book, findings);
        book.Sold(["6061-T6", "1018", "304", "S235JR", "POM-C", "C360"]);
    }

    /// <summary>Files that were read as parts, and refused.</summary>
    public int Read { get; private set; }

    public int Refused { get; private set; }

    /// <summary>Longest time of one file.</summary>
    public TimeSpan Slowest { get; private set; }

    /// <summary>What is wrong with the answer to a file; null: nothing.</summary>
    public string? Fault(string name, byte[] bytes)
    {
        var watch = Stopwatch.StartNew();
        try
        {
            var findings = new FindingList();
            var choices = TableChoices.None;
            var parts = new List<PartRow>();
            if (CsvTable.Read(bytes, name, "a parts list", PartsReader.Columns, choices, findings) is { } table)
            {
                parts.AddRange(PartsReader.AddUp(PartsReader.Read(table, FoundUnit.Of(table, PartColumns.Sizes, null), 1, book, findings).Rows, 1, findings));
            }

            var stocks = new StockList();
            CatalogueReader.Read(bytes, name, choices, new(LengthUnit.Millimetre, null), book, stocks, PriceSource.Catalogue("EUR"), new());
            var problem = Problem(parts, findings);
            Slowest = watch.Elapsed > Slowest ? watch.Elapsed : Slowest;
            return problem;
        }
#pragma warning disable CA1031 // Whatever it is, it is what is looked for.
        catch (Exception fault)
#pragma warning restore CA1031
        {
            return fault.ToString();
        }
    }

    private string? Problem(List<PartRow> parts, FindingList findings)
    {
        var all = findings.ToImmutable();
        if (findings.Errors > 0)
        {
            Refused++;
            return all.FirstOrDefault(finding => finding.Severity == Severity.Error && (finding.Message.Length == 0 || finding.Advice.Length == 0 || finding.Where.File.Length == 0)) is { } unhelpful
                ? $"no cause or remedy: {unhelpful.Rule} {unhelpful}" : null;
        }

        Read++;
        return parts.Count == 0 ? "accepted without a part"
            : parts.Find(row => row.Part.Length <= Length.Zero || row.Part.Width <= Length.Zero || row.Part.Thickness <= Length.Zero || row.Part.Length > StockShape.Longest
                || row.Part.Quantity is < 1 or > 1_000_000 || row.Part.Id.Length is 0 or > TableLimits.Name || (row.Part.Round && row.Part.Width != row.Part.Thickness)) is { } odd ? $"accepted {odd.Part}"
            : parts.Select(row => row.Part.Id).Distinct(StringComparer.OrdinalIgnoreCase).Count() != parts.Count ? "accepted a name twice"
            : null;
    }
}
