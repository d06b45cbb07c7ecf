using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>A rule by which one chooses stock without a plan.</summary>
/// <param name="Blanks">The job's blanks with fewer fits; where the rule leaves a blank nothing to buy, all of its fits.</param>
public sealed record Restriction(string Name, ImmutableArray<Blank> Blanks);

/// <summary>The rules of thumb that the one model must beat: they make start plans of it, and the bench compares it with them.</summary>
/// <remarks>Each restricted problem is smaller, and often solved better in little time, than the whole; its layouts are layouts of the
/// whole. O(blanks · fits).</remarks>
public static class Restrictions
{
    /// <summary>Plates where they serve, bars where they serve, each part's cheapest size first, each supplier where it serves; without
    /// those that restrict nothing or repeat another.</summary>
    public static ImmutableArray<Restriction> Of(Job job, ImmutableArray<Blank> blanks)
    {
        var stocks = job.Stocks.ToDictionary(stock => stock.Id, StringComparer.Ordinal);
        var rules = new List<Restriction>
        {
            new("plates where they serve", Only(blanks, stocks, stock => stock.Form == Form.Plate)),
            new("bars where they serve", Only(blanks, stocks, stock => stock.Form.IsBar())),
            new("each part's cheapest size first", [.. blanks.Select(blank => Cheapest(blank, stocks))]),
            Alone(job, blanks),
        };
        foreach (var supplier in job.Stocks.Where(stock => !stock.IsLeftover).Select(Scenario.Key).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal))
        {
            var name = job.Stocks.First(stock => !stock.IsLeftover && Scenario.Key(stock) == supplier).Supplier ?? "";
            rules.Add(new(
                $"{(name.Length == 0 ? "stock without a supplier" : name)} where it serves",
                Only(blanks, stocks, stock => stock.IsLeftover || Scenario.Key(stock) == supplier)));
        }

        var seen = new HashSet<string>(StringComparer.Ordinal) { Key(blanks) };
        return [.. rules.Where(rule => seen.Add(Key(rule.Blanks)))];
    }

    /// <summary>Of parts that want one stock or one size only the cheapest; others stay as they are.</summary>
    public static Restriction Alone(Job job, ImmutableArray<Blank> blanks)
    {
        var stocks = job.Stocks.ToDictionary(stock => stock.Id, StringComparer.Ordinal);
        return new("each part from its cheapest stock", [.. blanks.Select(blank => Cheapest(blank, stocks, alone: true))]);
    }

    /// <summary>Equal for blanks that may come from the same stocks.</summary>
    internal static string Key(ImmutableArray<Blank> blanks) =>
        string.Join('|', blanks.Select(blank => string.Join(',', blank.Fits.Select(fit => fit.StockId))));

    /// <summary>Keeps the fits on such stock where some of it can be bought without limit.</summary>
    private static ImmutableArray<Blank> Only(ImmutableArray<Blank> blanks, Dictionary<string, Stock> stocks, Func<Stock, bool> which) =>
        [.. blanks.Select(blank => blank.Fits.Any(fit => stocks[fit.StockId] is { Available: null } stock && which(stock))
            ? blank with { Fits = [.. blank.Fits.Where(fit => which(stocks[fit.StockId]))] }
            : blank)];

    /// <summary>The size whose metal, by share of the piece, and facing cost least: what one does without a plan.</summary>
    /// <param name="alone">Of parts that want one stock or one size: only that; others stay as they are.</param>
    private static Blank Cheapest(Blank blank, Dictionary<string, Stock> stocks, bool alone = false)
    {
        if (alone && !blank.Part.OneStock && !blank.Part.OneSize)
        {
            return blank;
        }

        var best = blank.Fits.Where(fit => stocks[fit.StockId].Available is null).MinBy(fit =>
        {
            var stock = stocks[fit.StockId];
            var share = stock.Form.IsBar()
                ? fit.SizeX.ToMillimetres() / stock.Length.ToMillimetres()
                : (fit.SizeX * fit.SizeY).ShareOf(stock.Length * stock.Width);
            return (stock.PiecePrice.Amount * share) + fit.ExtraCost.Amount;
        });
        return best is null ? blank : blank with
        {
            Fits = [.. blank.Fits.Where(fit => alone ? Alike(blank.Part, fit) : Section(stocks[fit.StockId]) == Section(stocks[best.StockId]))],
        };

        bool Alike(Part part, BlankFit fit) => part.OneStock
            ? fit.StockId == best.StockId
            : BlankSize.Of(stocks[fit.StockId], fit) == BlankSize.Of(stocks[best.StockId], best);
    }

    private static (Form, Length, Length) Section(Stock stock) =>
        (stock.Form, stock.Thickness, stock.Form == Form.Plate ? default : stock.Width);
}
