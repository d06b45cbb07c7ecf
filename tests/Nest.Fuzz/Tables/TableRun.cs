using System.Diagnostics;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data;
using Nest.Data.Csv;
using Nest.Data.Parts;
using Nest.Data.Racks;
using Nest.Data.Stocks;
using Nest.Data.Tables;

namespace Nest.Fuzz.Tables;

/// <summary>Reads made tables and looks for what must never be: an exception, a row that can be none, a refusal that does not help.</summary>
public sealed class TableRun
{
    private readonly MaterialBook book = new();
    private readonly ShopMaterials shop = ShopMaterials.Load(null).Value!;

    public TableRun()
    {
        var findings = new FindingList();
        Starter.ReadMaterials(book, findings);
        book.Sold(["6061-T6", "1018", "304", "S235JR", "POM-C", "C360"]);
    }

    /// <summary>Files that were read, and refused.</summary>
    public int Read { get; private set; }

    public int Refused { get; private set; }

    /// <summary>Longest time of one file.</summary>
    public TimeSpan Slowest { get; private set; }

    /// <summary>What is wrong with the answer to a file; null: nothing.</summary>
    public string? Fault(string name, byte[] bytes, TableKind kind = TableKind.Parts)
    {
        var watch = Stopwatch.StartNew();
        try
        {
            var (findings, odd) = kind switch
            {
                TableKind.Prices => Prices(name, bytes),
                TableKind.Rack => Rack(name, bytes),
                _ => Parts(name, bytes),
            };
            var problem = Problem(findings, odd);
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

    private string? Problem(IReadOnlyCollection<Finding> findings, string? odd)
    {
        var errors = findings.Where(finding => finding.Severity == Severity.Error).ToList();
        if (errors.Count == 0)
        {
            Read++;
            return odd;
        }

        Refused++;
        return errors.Find(error => error.Message.Length == 0 || error.Advice.Length == 0 || error.Where.File.Length == 0) is { } unhelpful
            ? $"no cause or remedy: {unhelpful.Rule} {unhelpful}" : null;
    }

    private (IReadOnlyCollection<Finding> Findings, string? Odd) Parts(string name, byte[] bytes)
    {
        var findings = new FindingList();
        var parts = new List<PartRow>();
        if (CsvTable.Read(bytes, name, "a parts list", PartsReader.Columns, TableChoices.None, findings) is { } table)
        {
            parts.AddRange(PartSums.AddUp(PartsReader.Read(table, FoundUnit.Of(table, PartColumns.Sizes, null), 1, book, findings).Rows, 1, findings));
        }

        return (findings.ToImmutable(), parts.Count == 0 ? "accepted without a part"
            : parts.Find(row => !Sound(row.Part.Length, row.Part.Width, row.Part.Thickness) || !Sound(row.Part.Id)
                || row.Part.Quantity is < 1 or > 1_000_000 || (row.Part.Round && row.Part.Width != row.Part.Thickness)) is { } odd ? $"accepted {odd.Part}"
            : parts.Select(row => row.Part.Id).Distinct(StringComparer.OrdinalIgnoreCase).Count() != parts.Count ? "accepted a name twice"
            : null);
    }

    private (IReadOnlyCollection<Finding> Findings, string? Odd) Prices(string name, byte[] bytes)
    {
        var findings = new FindingList();
        var stocks = new StockList();
        CatalogueReader.Read(bytes, name, TableChoices.None, new(LengthUnit.Millimetre, null), book, stocks, PriceSource.Catalogue("EUR"), findings);
        return (findings.ToImmutable(), stocks.Stocks.Find(stock => !Sound(stock.Length, stock.Width, stock.Thickness) || !Sound(stock.Id) || stock.PiecePrice < Money.Zero || stock.UnitPrice < 0
                || stock.MinLength > stock.Length || stock.MinLength <= Length.Zero || stock.MinWidth <= Length.Zero || stock.MinThickness <= Length.Zero || stock.Available < 0
                || stock.Terms.Breaks.Any(step => step.From < 1 || step.PiecePrice < Money.Zero)) is { } odd ? $"accepted {odd}"
            : stocks.Stocks.Select(stock => stock.Id).Distinct(StringComparer.OrdinalIgnoreCase).Count() != stocks.Stocks.Count ? "accepted a stock twice"
            : null);
    }

    private (IReadOnlyCollection<Finding> Findings, string? Odd) Rack(string name, byte[] bytes)
    {
        var read = RackTableReader.Read(bytes, name, shop, LengthUnit.Millimetre, TableChoices.None);
        var pieces = read.Value?.Rows.Select(row => row.Piece).ToList() ?? [];
        var marks = pieces.Select(piece => piece.Mark).Where(mark => mark.Length > 0).ToList();
        return (read.Findings, pieces.Find(piece => !Sound(piece.Length, piece.Width, piece.Thickness) || (piece.Mark.Length > 0 && !Sound(piece.Mark)) || piece.Value < Money.Zero || piece.MinLength > piece.Length
                || piece.KeepOuts.Any(area => area.SizeX <= Length.Zero || area.SizeY <= Length.Zero || area.X < Length.Zero || area.Y < Length.Zero || area.Right > piece.Length || area.Top > piece.Width)) is { } odd ? $"accepted {odd}"
            : marks.Distinct(StringComparer.OrdinalIgnoreCase).Count() != marks.Count ? "accepted a mark twice"
            : null);
    }

    private static bool Sound(params ReadOnlySpan<Length> sizes)
    {
        foreach (var size in sizes)
        {
            if (size <= Length.Zero || size > StockShape.Longest)
            {
                return false;
            }
        }

        return true;
    }

    private static bool Sound(string name) => name.Length is > 0 and <= TableLimits.Name && !name.Any(char.IsControl);
}
