using Nest.Solve.Choose;

namespace Nest.Solve.Batch;

/// <summary>Plans of a curve's numbers made from those of other numbers: a set taken out, a set put to it, two numbers together.</summary>
/// <remarks>Quick; every plan is offered and kept only when it is cheaper with all terms. Heuristic. Each pass O(numbers · layouts).</remarks>
internal sealed class CurveMoves(CurveNumber[] numbers, ColumnPool[] pools)
{
    private readonly int _from = numbers[0].Sets;

    /// <summary>Plans go on to their neighbours until none becomes better.</summary>
    public void Spread(CancellationToken cancel)
    {
        for (var round = 0; round < 4 && !cancel.IsCancellationRequested; round++)
        {
            var better = false;
            for (var at = numbers.Length - 2; at >= 0; at--)
            {
                better |= FromNext(numbers[at], numbers[at + 1]);
            }

            for (var at = 0; at < numbers.Length; at++)
            {
                better |= FromSums(numbers[at]);
                better |= at > 0 && FromLess(numbers[at], numbers[at - 1]);
            }

            if (!better)
            {
                return;
            }
        }
    }

    private static bool FromNext(CurveNumber number, CurveNumber next) =>
        next.Complete && !number.Proven && number.OfferMore([.. next.Best.Parts.Select(part => part!.Columns)], next.Best.Extras);

    /// <summary>The sums that look cheapest; one delivery less, or a break reached, may make them cheaper than the sum of the costs.</summary>
    private bool FromSums(CurveNumber number)
    {
        if (number.Proven)
        {
            return false;
        }

        var better = false;
        var pairs = Enumerable.Range(_from, Math.Max(0, (number.Sets / 2) - _from + 1))
            .Where(a => number.Sets - a >= _from)
            .Select(a => (A: numbers[a - _from], B: numbers[number.Sets - a - _from]))
            .Where(pair => pair.A.Complete && pair.B.Complete)
            .OrderBy(pair => (pair.A.Best.Cost!.Value + pair.B.Best.Cost!.Value).Units)
            .Take(3);
        foreach (var (a, b) in pairs)
        {
            better |= Join(number, [a, b]);
        }

        return better;
    }

    /// <summary>Offers the plans of several numbers together, where the limited stock is enough.</summary>
    public static bool Join(CurveNumber number, IReadOnlyList<CurveNumber> parts)
    {
        var columns = Enumerable.Range(0, number.Components.Length)
            .Select(c => parts.SelectMany(part => part.Best.Parts[c]!.Columns).ToList()).ToList();
        var used = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var (column, count) in columns.SelectMany(some => some))
        {
            used[column.Layout.StockId] = used.GetValueOrDefault(column.Layout.StockId) + count;
        }

        // Pieces that were bought whole to reach a break or a minimum are left out: together it may be reached without them.
        return number.Components.SelectMany(component => component.Stocks)
                .All(frame => frame.Stock.Available is not { } most || used.GetValueOrDefault(frame.Stock.Id) <= most)
            && number.OfferMore([.. columns], []);
    }

    /// <summary>The plan of a number less, and for what is more the layouts that cost least for what they cut of it: greedy.</summary>
    private bool FromLess(CurveNumber number, CurveNumber less)
    {
        if (number.Proven || !less.Complete)
        {
            return false;
        }

        var plan = number.Components.Select((component, c) => Extend(component, less.Best.Parts[c]!.Columns, pools[c].Columns)).ToArray();
        return plan.All(some => some is not null) && number.OfferMore([.. plan.Select(some => some!)], less.Best.Extras);
    }

    private static List<(Column Column, int Count)>? Extend(
        Component component, IEnumerable<(Column Column, int Count)> columns, IReadOnlyList<Column> known)
    {
        var all = columns.ToList();
        var missing = component.Demand.ToArray();
        var left = component.Stocks.Select(frame => frame.Stock.Available ?? int.MaxValue).ToArray();
        foreach (var (column, count) in all)
        {
            left[column.Stock] -= count;
            for (var i = 0; i < missing.Length; i++)
            {
                missing[i] -= column.Counts[i] * count;
            }
        }

        if (left.Any(n => n < 0))
        {
            return null;
        }

        // A piece is worth what the layout cheapest for it alone costs per piece.
        var worth = new double[missing.Length];
        for (var i = 0; i < worth.Length; i++)
        {
            worth[i] = known.Where(column => column.Counts[i] > 0).Select(column => column.Cost / (double)column.Counts[i]).DefaultIfEmpty(0).Min();
        }

        while (missing.Any(n => n > 0))
        {
            var best = known.Where(column => left[column.Stock] > 0).Select(column => (Column: column, Ratio: Ratio(column)))
                .Where(entry => entry.Ratio < double.PositiveInfinity).DefaultIfEmpty().MinBy(entry => entry.Ratio).Column;
            if (best is null)
            {
                return null;
            }

            all.Add((best, 1));
            left[best.Stock]--;
            for (var i = 0; i < missing.Length; i++)
            {
                missing[i] -= best.Counts[i];
            }
        }

        return all;

        double Ratio(Column column)
        {
            double useful = 0;
            for (var i = 0; i < missing.Length; i++)
            {
                useful += Math.Min(Math.Max(0, missing[i]), column.Counts[i]) * worth[i];
            }

            return useful > 0 ? column.Cost / useful : double.PositiveInfinity;
        }
    }
}
