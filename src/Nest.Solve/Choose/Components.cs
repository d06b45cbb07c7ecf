using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Jobs;

namespace Nest.Solve.Choose;

/// <summary>Splits a job into connected components.</summary>
/// <remarks>Union-find over blanks and the stocks that serve them, O(fits · α). A component's answer does not depend on the
/// others, so their costs and bounds add up.</remarks>
internal static class Components
{
    /// <param name="blanks">Blanks with at least one fit and a demand above zero are taken; the others are the caller's to report.</param>
    public static ImmutableArray<Component> Of(Job job, ImmutableArray<Blank> blanks)
    {
        var frames = new Dictionary<string, StockFrame>(StringComparer.Ordinal);
        foreach (var stock in job.Stocks)
        {
            if (job.SawFor(stock) is { } saw)
            {
                frames[stock.Id] = new(job, stock, saw);
            }
        }

        var stockOrder = job.Stocks.Select((stock, index) => (stock.Id, index)).ToDictionary(p => p.Id, p => p.index, StringComparer.Ordinal);
        var parent = Enumerable.Range(0, blanks.Length + job.Stocks.Length).ToArray();
        for (var i = 0; i < blanks.Length; i++)
        {
            foreach (var fit in Serving(blanks[i]))
            {
                parent[Find(i)] = Find(blanks.Length + stockOrder[fit.StockId]);
            }
        }

        var groups = Enumerable.Range(0, blanks.Length)
            .Where(i => blanks[i].Demand > 0 && Serving(blanks[i]).Any())
            .GroupBy(Find)
            .ToList();
        var enough = Math.Max(1, Core.Quantities.Money.UnitsPerCurrency / 100 / Math.Max(1, groups.Count));
        return [.. groups.Select(group => Build(job, blanks, [.. group.Order()], frames, stockOrder, enough))];

        IEnumerable<BlankFit> Serving(Blank blank) => blank.Fits.Where(fit => frames.ContainsKey(fit.StockId));

        int Find(int node)
        {
            while (parent[node] != node)
            {
                node = parent[node] = parent[parent[node]];
            }

            return node;
        }
    }

    private static Component Build(
        Job job, ImmutableArray<Blank> blanks, ImmutableArray<int> indices, Dictionary<string, StockFrame> frames,
        Dictionary<string, int> stockOrder, long enough)
    {
        var ids = indices.SelectMany(i => blanks[i].Fits).Select(fit => fit.StockId).Where(frames.ContainsKey)
            .Distinct(StringComparer.Ordinal).OrderBy(id => stockOrder[id]).ToList();
        var stocks = ids.Select(id => frames[id]).ToImmutableArray();
        var fits = new BlankFit?[stocks.Length, indices.Length];
        for (var i = 0; i < indices.Length; i++)
        {
            foreach (var fit in blanks[indices[i]].Fits)
            {
                var s = ids.IndexOf(fit.StockId);
                if (s >= 0)
                {
                    fits[s, i] = fit;
                }
            }
        }

        return new()
        {
            Job = job,
            BlankIndices = indices,
            Blanks = [.. indices.Select(i => blanks[i])],
            Stocks = stocks,
            Unit = CommonUnit(stocks, fits),
            Fits = fits,
            Groups = Group(stocks, fits, indices.Length),
            Enough = enough,
        };
    }

    /// <summary>Greatest common divisor of all lengths that a kernel sees, so that dividing by it is exact.</summary>
    private static long CommonUnit(ImmutableArray<StockFrame> stocks, BlankFit?[,] fits)
    {
        long divisor = 0;
        for (var s = 0; s < stocks.Length; s++)
        {
            var frame = stocks[s];
            Add(frame.Saw.Kerf.Nanometres);
            Add(frame.Sheet.SizeX.Nanometres);
            Add(frame.Usable.SizeX.Nanometres);
            Add(frame.Saw.ShortestHeld.Nanometres);
            if (!frame.IsBar)
            {
                Add(frame.Usable.SizeY.Nanometres);
                Add(frame.Saw.LargestCut?.Nanometres ?? 0);
                foreach (var keepOut in frame.Stock.KeepOuts)
                {
                    Add((keepOut.X - frame.Usable.X).Nanometres);
                    Add((keepOut.Y - frame.Usable.Y).Nanometres);
                    Add(keepOut.SizeX.Nanometres);
                    Add(keepOut.SizeY.Nanometres);
                }
            }

            if (frame.Rule is { } rule)
            {
                Add(rule.KeepLength.Nanometres);
                Add(rule.KeepWidth.Nanometres);
            }

            for (var i = 0; i < fits.GetLength(1); i++)
            {
                if (fits[s, i] is { } fit)
                {
                    Add(fit.SizeX.Nanometres);
                    if (!frame.IsBar)
                    {
                        Add(fit.SizeY.Nanometres);
                    }
                }
            }
        }

        return divisor == 0 ? 1 : divisor;

        void Add(long value)
        {
            value = Math.Abs(value);
            while (value != 0)
            {
                (divisor, value) = (value, divisor % value);
            }
        }
    }

    /// <summary>By saw, bars and plates apart. Bar sections on which a blank would not have the same length, and plates on which it
    /// would not have the same size (a round part may stand on one and lie on another), go to different groups, joined greedily into
    /// as few as possible, those with unlimited stock first, so that leftovers join what can stand in for them.</summary>
    private static ImmutableArray<StockGroup> Group(ImmutableArray<StockFrame> stocks, BlankFit?[,] fits, int items)
    {
        var groups = ImmutableArray.CreateBuilder<StockGroup>();
        foreach (var bySaw in Enumerable.Range(0, stocks.Length).GroupBy(s => (stocks[s].IsBar, stocks[s].Saw.Id)))
        {
            var joined = new List<List<int>>();
            var sections = bySaw
                .GroupBy(s => bySaw.Key.IsBar ? (stocks[s].Stock.Form, stocks[s].Stock.MinWidth, stocks[s].Stock.MinThickness, 0) : (Form.Plate, default, default, s))
                .OrderBy(section => section.All(s => stocks[s].Stock.Available is not null) ? 1 : 0);
            foreach (var section in sections)
            {
                if (joined.Find(group => SameSizes([.. group, .. section])) is { } home)
                {
                    home.AddRange(section);
                }
                else
                {
                    joined.Add([.. section]);
                }
            }

            groups.AddRange(joined.Select(group => new StockGroup(bySaw.Key.IsBar, [.. group.Order()])));
        }

        return groups.ToImmutable();

        bool SameSizes(int[] group)
        {
            for (var i = 0; i < items; i++)
            {
                if (group.Where(s => fits[s, i] is not null).Select(s => (fits[s, i]!.SizeX, stocks[s].IsBar ? default : fits[s, i]!.SizeY)).Distinct().Count() > 1)
                {
                    return false;
                }
            }

            return true;
        }
    }
}
