namespace Nest.Solve.Plates.Free;

/// <summary>Puts the pieces of one or two plates on one cheaper plate, where that can be decided exactly.</summary>
/// <remarks>Method: every plate, and every pair, with few pieces whose area is no more than that of a plate that costs less; those with
/// the most room first, each asked once (<see cref="ExactPlate"/>). Guarantee: never dearer.</remarks>
internal sealed class PlateJoiner(FreeModel model, FreeBudget budget)
{
    private const int MostPieces = 22;

    private readonly HashSet<string> _asked = new(StringComparer.Ordinal);

    /// <summary>Asks up to so many times; returns a cheaper plan or null.</summary>
    public FreePlan? Run(List<FreePlate> plates, int most, double seconds)
    {
        var used = new int[model.Stocks.Length];
        foreach (var plate in plates)
        {
            used[plate.Stock]++;
        }

        foreach (var (a, b, stock) in Candidates(plates, used).OrderBy(c => c.Fill).ThenBy(c => c.A).ThenBy(c => c.B).Select(c => (c.A, c.B, c.Stock)))
        {
            if (most <= 0 || budget.Out)
            {
                return null;
            }

            var kinds = plates[a].Placed.Concat(b < 0 ? [] : plates[b].Placed).Select(p => p.Kind).Order().ToList();
            if (!_asked.Add($"{stock.Index}:{string.Join(',', kinds)}"))
            {
                continue;
            }

            most--;
            if (ExactPlate.Pack(model, stock, kinds, seconds, budget) is not { } placed)
            {
                continue;
            }

            var joined = FreePlate.From(model, stock.Index, placed);
            var rest = plates.Where((_, n) => n != a && n != b).ToList();
            if (joined.Cost + rest.Sum(p => p.Cost) < plates.Sum(p => p.Cost))
            {
                return new FreePlan([.. rest.Append(joined).Select(p => (p, 1))]);
            }
        }

        return null;
    }

    private IEnumerable<(double Fill, int A, int B, FreeStock Stock)> Candidates(List<FreePlate> plates, int[] used)
    {
        for (var a = 0; a < plates.Count; a++)
        {
            for (var b = -1; b < a; b++)
            {
                var pieces = plates[a].Placed.Length + (b < 0 ? 0 : plates[b].Placed.Length);
                if (pieces > MostPieces)
                {
                    continue;
                }

                var area = plates[a].Area + (b < 0 ? 0 : plates[b].Area);
                long cost = model.Stocks[plates[a].Stock].Cost + (b < 0 ? 0 : model.Stocks[plates[b].Stock].Cost);
                foreach (var stock in model.Stocks)
                {
                    var given = (plates[a].Stock == stock.Index ? 1 : 0) + (b >= 0 && plates[b].Stock == stock.Index ? 1 : 0);
                    if (stock.Cost < cost && area <= (double)stock.Area && used[stock.Index] - given < stock.Limit
                        && Holds(stock, plates[a]) && (b < 0 || Holds(stock, plates[b])))
                    {
                        yield return (area / (double)stock.Area, a, b, stock);
                    }
                }
            }
        }
    }

    private bool Holds(FreeStock stock, FreePlate plate)
    {
        foreach (ref readonly var p in plate.Placed.AsSpan())
        {
            if (!model.Allowed[stock.Index, p.Kind])
            {
                return false;
            }
        }

        return true;
    }
}
