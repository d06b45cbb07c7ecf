using System.Collections.Immutable;
using System.Globalization;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Core.Blanks;

/// <summary>The ways to mill a part several from one blank: numbers, rows and columns, and the rest blank.</summary>
/// <remarks>
/// Problem: of a part (or two hands of it) so many are asked; which sets of blanks give just so many? Method: every allowed number k and every rows × columns = k that the mill
/// takes is one option: as many whole blanks as the pieces fill, and for what remains the largest blanks that the mill takes, each laid for the least area. Two hands share blanks half and half,
/// as long as both are needed. One option is taken for a part as a whole, so the choice lies outside the layouts: each is an ordinary job. The mill takes a block
/// when its finished size with clean-up (of side and end the larger) on all four sides is within the travel, and its shorter side within the vise's opening where a vise holds it; what a bar
/// is wider is not counted. O(numbers × divisors).
/// </remarks>
public static class GangOptions
{
    /// <summary>More are not tried for "any".</summary>
    public const int MostPerBlank = 48;

    /// <summary>Whether the job leaves a number per blank to the planner.</summary>
    public static bool IsOpen(Job job) => job.Parts.Any(part => part is { PerBlank: not null, Gang: null });

    /// <summary>The parts whose number is open, each with its other hand where that is another one.</summary>
    public static ImmutableArray<(Part Part, Part? Mate)> Groups(Job job)
    {
        var groups = ImmutableArray.CreateBuilder<(Part, Part?)>();
        var taken = new HashSet<string>(StringComparer.Ordinal);
        foreach (var part in job.Parts.Where(part => part is { PerBlank: not null, Gang: null }))
        {
            if (!taken.Add(part.Id))
            {
                continue;
            }

            var mate = part.PerBlank!.With is { } name ? job.Parts.FirstOrDefault(one => string.Equals(one.Id, name, StringComparison.OrdinalIgnoreCase) && taken.Add(one.Id)) : null;
            groups.Add((part, mate));
        }

        return groups.ToImmutable();
    }

    /// <summary>Every set of blanks that gives the group's pieces, as parts that stand in its place; the smallest number per blank first.</summary>
    public static ImmutableArray<ImmutableArray<Part>> Of(Job job, Part part, Part? mate)
    {
        var rule = part.PerBlank!;
        var (own, other) = (job.DemandOf(part), mate is null ? 0 : job.DemandOf(mate));
        var total = own + other;
        var most = Math.Min(total, rule.IsAny ? MostPerBlank : rule.Counts[^1]);
        var counts = Enumerable.Range(1, most).Where(count => (rule.IsAny || rule.Counts.Contains(count)) && (mate is null || count == 1 || count % 2 == 0)).ToList();
        var options = ImmutableArray.CreateBuilder<ImmutableArray<Part>>();
        foreach (var count in counts)
        {
            options.AddRange(Grids(job, part, count).Select(grid => Blanks(job, part, mate, grid)));
        }

        // Fewer are asked for than any number allows, or the mill takes none of them: what can be milled at once.
        return options.Count > 0 ? options.ToImmutable() : [Rests(job, part, mate, most)];
    }

    /// <summary>The job with these blanks in place of the parts that are milled from them.</summary>
    public static Job With(Job job, IReadOnlyList<(Part Part, Part? Mate, ImmutableArray<Part> Blanks)> chosen)
    {
        foreach (var (part, mate, blanks) in chosen)
        {
            string[] own = mate is null ? [part.Id] : [part.Id, mate.Id];
            job = job with
            {
                Parts = [.. job.Parts.SelectMany(one => one.Id == part.Id ? blanks : one.Id == mate?.Id ? [] : ImmutableArray.Create(one))],
                StockRules =
                [
                    .. job.StockRules.Select(rule => !rule.Parts.Any(name => own.Contains(name, StringComparer.OrdinalIgnoreCase)) ? rule : rule with
                    {
                        Parts =
                        [
                            .. rule.Parts.Where(name => !own.Contains(name, StringComparer.OrdinalIgnoreCase)),
                            .. blanks.Where(blank => MembersOf(blank).Any(member => rule.Parts.Contains(member, StringComparer.OrdinalIgnoreCase))).Select(blank => blank.Id),
                        ],
                    }),
                ],
            };
            job = job with
            {
                Stocks =
                [
                    .. job.Stocks.SelectMany(stock => stock.CutFor is not { } made || !own.Contains(made) ? [stock]
                        : CutAgain(job, [.. blanks.Where(blank => MembersOf(blank).First() == made)], stock)),
                ],
            };
        }

        return job;
    }

    /// <summary>Whether the mill takes so many at once.</summary>
    public static bool Takes(Job job, Part part, int rows, int columns)
    {
        if (rows * columns == 1)
        {
            return true;
        }

        var given = BlankSizer.AllowancesFor(job, part, job.MaterialOf(part.MaterialId));
        var clean = Length.Max(given.SideCleanUp, given.EndCleanUp) * 2;
        var block = Part.BlockOf(part, rows, columns);
        var (one, two) = (block.Length + clean, block.Width + clean);
        var (longer, shorter) = one >= two ? (one, two) : (two, one);
        var mill = job.Mill;
        return (mill.TravelX is not { } x || longer <= x) && (mill.TravelY is not { } y || shorter <= y)
            && (mill.ViseOpening is not { } opening || part.Holding is not (Holding.Vise or Holding.SoftJaws) || shorter <= opening);
    }

    /// <summary>What a supplier cuts to size, for these blanks; of a limited number nothing where there are several kinds of blanks: they would share it.</summary>
    private static IEnumerable<Stock> CutAgain(Job job, ImmutableArray<Part> blanks, Stock stock) => stock.Available is not null && blanks.Length > 1 ? []
        : blanks.Select(blank => blank.Gang is null ? stock : CutToSize.Again(job, blank, stock)).OfType<Stock>();

    private static IEnumerable<string> MembersOf(Part blank) => blank.Gang is { } gang ? gang.Members.Select(member => member.Part) : [blank.Id];

    /// <summary>Rows × columns that the mill takes, fewest rows first.</summary>
    private static IEnumerable<(int Rows, int Columns)> Grids(Job job, Part part, int count) =>
        Enumerable.Range(1, count).Where(rows => count % rows == 0).Select(rows => (Rows: rows, Columns: count / rows)).Where(grid => Takes(job, part, grid.Rows, grid.Columns));

    private static ImmutableArray<Part> Blanks(Job job, Part part, Part? mate, (int Rows, int Columns) grid)
    {
        var count = grid.Rows * grid.Columns;
        var list = new List<Part>();
        var (own, other) = (job.DemandOf(part), mate is null ? 0 : job.DemandOf(mate));
        if (count == 1)
        {
            return mate is null ? [part] : [part, mate];
        }

        if (mate is not null)
        {
            var whole = Math.Min(own, other) / (count / 2);
            Add(list, part, mate, grid, whole, false, count / 2, count / 2, own, other);
            (own, other) = (own - (whole * count / 2), other - (whole * count / 2));
            for (var pairs = Math.Min(own, other); pairs > 0;)
            {
                var fits = Largest(job, part, pairs, 2);
                if (fits == 0)
                {
                    break;
                }

                Add(list, part, mate, Least(job, part, fits * 2), 1, true, fits, fits, job.DemandOf(part), job.DemandOf(mate));
                (own, other, pairs) = (own - fits, other - fits, pairs - fits);
            }
        }

        foreach (var (one, left) in mate is null ? [(part, own)] : new[] { (part, own), (mate, other) })
        {
            Add(list, one, null, grid, left / count, false, count, 0, job.DemandOf(one), 0);
            AddRests(job, list, one, left % count, count);
        }

        return [.. list];
    }

    /// <summary>No whole blank: as large ones as the mill takes.</summary>
    private static ImmutableArray<Part> Rests(Job job, Part part, Part? mate, int most)
    {
        var list = new List<Part>();
        AddRests(job, list, part, job.DemandOf(part), most, none: true);
        if (mate is not null)
        {
            AddRests(job, list, mate, job.DemandOf(mate), most);
        }

        return [.. list];
    }

    /// <param name="none">There is no whole blank, so the first of these is none's rest.</param>
    private static void AddRests(Job job, List<Part> list, Part part, int left, int most, bool none = false)
    {
        while (left > 0)
        {
            var fits = Largest(job, part, Math.Min(left, most), 1);
            var times = left / fits;
            Add(list, part, null, Least(job, part, fits), times, !none || list.Count > 0, fits, 0, job.DemandOf(part), 0);
            left -= fits * times;
        }
    }

    private static void Add(
        List<Part> list, Part part, Part? mate, (int Rows, int Columns) grid, int blanks, bool rest, int count, int mateCount, int asked, int mateAsked)
    {
        if (blanks == 0)
        {
            return;
        }

        var all = string.Create(CultureInfo.InvariantCulture, $"{grid.Rows * grid.Columns}");
        list.Add(part with
        {
            Id = mate is null ? $"{part.Id} ×{all}" : $"{part.Id} + {mate.Id} ×{all}",
            Gang = new()
            {
                Rows = grid.Rows, Columns = grid.Columns, Blanks = blanks, Rest = rest,
                Members = mate is null ? [new(part.Id, count, asked)] : [new(part.Id, count, asked), new(mate.Id, mateCount, mateAsked)],
            },
        });
    }

    /// <summary>The largest number up to this that the mill takes at once, times <paramref name="each"/>; 0: none.</summary>
    private static int Largest(Job job, Part part, int most, int each) =>
        Enumerable.Range(1, most).Reverse().FirstOrDefault(count => Grids(job, part, count * each).Any());

    /// <summary>The grid whose blank has the least area; of equal ones that with the fewest rows.</summary>
    private static (int Rows, int Columns) Least(Job job, Part part, int count)
    {
        var given = BlankSizer.AllowancesFor(job, part, job.MaterialOf(part.MaterialId));
        var clean = Length.Max(given.SideCleanUp, given.EndCleanUp) * 2;
        return Grids(job, part, count).MinBy(grid =>
        {
            var block = Part.BlockOf(part, grid.Rows, grid.Columns);
            return ((block.Length + clean) * (block.Width + clean)).SquareNanometres;
        });
    }
}
