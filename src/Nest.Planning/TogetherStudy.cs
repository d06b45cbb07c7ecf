using System.Collections.Immutable;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Data;
using Nest.Data.Jobs;

namespace Nest.Planning;

/// <summary>Whether several jobs are better bought and cut as one, and whether it is worth to wait for the last.</summary>
/// <remarks>
/// Problem: jobs were joined (<see cref="JobsTogether"/>) and planned; what would they cost apart? Method: each is planned by itself; then, where two took the
/// same leftover, the later one again without it. For the question of waiting all but the last are planned as one, and the last from what that plan leaves: leftovers
/// that it took are gone, limited stock is less, offcuts that it keeps are leftovers at the value they were kept at. Cost: 2 to 2 × jobs plans.
/// </remarks>
public static class TogetherStudy
{
    /// <summary>Joins jobs that were read.</summary>
    /// <param name="jobs">A name for each, and its job for as many sets as are wanted.</param>
    /// <returns>The joined job; no value where they do not go together.</returns>
    public static ReadResult<JobInput> Join(IReadOnlyList<(string Name, JobInput Input)> jobs) => JobsTogether.Join(jobs);

    /// <summary>Compares the plan of all with plans apart.</summary>
    /// <param name="joined">The joined job as it was read: numbers per blank that the plan decided are open in it.</param>
    /// <param name="planned">Plans a job; its second argument says which one it is. Null ends the study.</param>
    /// <returns>Null where a plan could not be made, or the search was ended.</returns>
    public static TogetherResult? Of(Job joined, Plan whole, Func<Job, string, Plan?> planned, CancellationToken cancel)
    {
        var job = joined with { Kept = [] };
        var all = job.Together;
        var apart = new List<Plan>();
        var second = new List<Plan>();
        foreach (var one in all)
        {
            if (cancel.IsCancellationRequested || planned(JobsTogether.Only(job, [one]), $"{one.Name} by itself") is not { } plan)
            {
                return null;
            }

            apart.Add(plan);
            var free = Without(plan.Job, second);
            var own = plan;
            if (!Suffices(free, plan))
            {
                if (cancel.IsCancellationRequested || planned(free, $"{one.Name} without what the others take") is not { } again)
                {
                    return null;
                }

                own = again;
            }

            second.Add(own);
        }

        Plan? before = all.Length == 2 ? apart[0] : null;
        before ??= cancel.IsCancellationRequested ? null : planned(JobsTogether.Only(job, [.. all.SkipLast(1)]), $"all but {all[^1].Name}");
        if (before is null)
        {
            return null;
        }

        var later = cancel.IsCancellationRequested ? null : planned(After(JobsTogether.Only(job, [all[^1]]), before), $"{all[^1].Name} afterwards");
        return new(whole, [.. apart], [.. second], before, later);
    }

    /// <summary>The job with what these plans leave of limited stock.</summary>
    private static Job Without(Job job, IReadOnlyList<Plan> plans) => job with
    {
        Stocks =
        [
            .. job.Stocks.Select(stock => stock.Available is not { } there ? stock : stock with { Available = Math.Max(0, there - plans.Sum(plan => Taken(plan, stock))) })
                .Where(stock => stock.Available is not 0),
        ],
    };

    private static bool Suffices(Job free, Plan plan) => plan.Job.Stocks.All(stock =>
        stock.Available is null || Taken(plan, stock) <= (free.Stocks.FirstOrDefault(one => one.Id == stock.Id)?.Available ?? 0));

    private static int Taken(Plan plan, Stock stock) => plan.Layouts.Where(layout => layout.StockId == stock.Id).Sum(layout => layout.Count);

    /// <summary>The job with what a plan leaves, its kept offcuts on the rack.</summary>
    private static Job After(Job job, Plan before)
    {
        var left = Without(job, [before]);
        var names = left.Stocks.Select(stock => stock.Id).ToHashSet(StringComparer.OrdinalIgnoreCase);
        var more = ImmutableArray.CreateBuilder<Stock>();
        foreach (var layout in before.Layouts)
        {
            var stock = before.StockOf(layout);
            var at = 0;
            foreach (var offcut in layout.Offcuts.Where(offcut => offcut.Keep && !stock.KeepOuts.Any(damage => Touch(damage, offcut.Area))))
            {
                at++;
                var id = Enumerable.Range(1, int.MaxValue).Select(number => $"rest {layout.Number}-{at}{(number == 1 ? "" : $" ({number})")}").First(names.Add);
                more.Add(Rest(before.Job, stock, layout, offcut, id));
            }
        }

        return left with { Stocks = left.Stocks.AddRange(more) };
    }

    private static Stock Rest(Job job, Stock stock, Layout layout, Offcut offcut, string id)
    {
        var bar = stock.Form.IsBar();
        var (area, sheet) = (offcut.Area, layout.Sheet);
        return stock with
        {
            Id = id,
            RackMark = id,
            Available = layout.Count,
            Supplier = null,
            CutFor = null,
            CutFrom = null,
            Terms = PriceTerms.None,
            PriceBasis = PriceBasis.Piece,
            KeepOuts = [],
            Length = area.SizeX,
            MinLength = area.SizeX,
            Width = bar ? stock.Width : area.SizeY,
            MinWidth = bar ? stock.MinWidth : area.SizeY,
            PiecePrice = offcut.Value,
            UnitPrice = offcut.Value.Amount,
            CleanEdges = new(
                area.X > Length.Zero || stock.CleanEdges.Left, area.X + area.SizeX < sheet.SizeX || stock.CleanEdges.Right,
                bar ? stock.CleanEdges.Bottom : area.Y > Length.Zero || stock.CleanEdges.Bottom, bar ? stock.CleanEdges.Top : area.Y + area.SizeY < sheet.SizeY || stock.CleanEdges.Top),
            Heat = stock.Heat ?? (job.HasCertificate(stock) ? "of its plate" : null),
            Entered = null,
            UseFirst = false,
            Place = null,
            Source = $"kept by {job.Name}",
        };
    }

    private static bool Touch(Rect a, Rect b) =>
        a.X < b.X + b.SizeX && b.X < a.X + a.SizeX && a.Y < b.Y + b.SizeY && b.Y < a.Y + a.SizeY;
}
