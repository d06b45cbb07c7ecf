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
/// is wider is not counted. Blanks that stay as they are stand in the job already, as parts with a <see cref="Gang"/>; what they give is taken off what is asked, and of the rest a number is chosen
/// that need not be theirs. O(numbers × divisors).
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
        var (own, other) = (Left(job, part), mate is null ? 0 : Left(job, mate));
        var total = own + other;
        if (total == 0)
        {
            return [[]];
        }

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

    /// <summary>What of a part is asked for beyond the blanks that stand in the job already.</summary>
    public static int Left(Job job, Part part) => job.DemandOf(part) - job.Parts.Where(one => one.Gang is not null)
        .Sum(one => one.Gang!.Blanks * one.Gang.Members.Where(member => member.Part == part.Id).Sum(member => member.Count));

    /// <summary>What blanks for one of this part are called where others are for several.</summary>
    public static string NameOfOne(Part part) => Name(part, null, 1);

    /// <summary>So many blanks for one of this part.</summary>
    public static Part One(Job job, Part part, int blanks) => part with
    {
        Id = NameOfOne(part),
        Gang = new() { Rows = 1, Columns = 1, Blanks = blanks, Members = [new(part.Id, 1, Math.Max(1, job.DemandOf(part)))] },
    };

    /// <summary>The job with blanks that stay beside the part that is milled from them, which stays open.</summary>
    public static Job Beside(Job job, Part blank)
    {
        var first = MembersOf(blank).First();
        return job with
        {
            Parts = [.. job.Parts.SelectMany(part => part.Id == first ? ImmutableArray.Create(blank, part) : [part])],
            StockRules = [.. job.StockRules.Select(rule => MembersOf(blank).Any(member => rule.Parts.Contains(member, StringComparer.OrdinalIgnoreCase)) ? rule with { Parts = [.. rule.Parts, blank.Id] } : rule)],
            Stocks = [.. job.Stocks.SelectMany(stock => stock.CutFor == first && CutToSize.Again(job, blank, stock) is { } again ? ImmutableArray.Create(again, stock) : [stock])],
        };
    }

    /// <summary>The job with these blanks in place of the parts that are milled from them.</summary>
    public static Job With(Job job, IReadOnlyList<(Part Part, Part? Mate, ImmutableArray<Part> Blanks)> chosen)
    {
        foreach (var (part, mate, given) in chosen)
        {
            // What stays is there already: of just such blanks there are more now.
            var more = given.Where(blank => Standing(job, blank)).ToDictionary(blank => blank.Id, blank => blank.Gang!.Blanks, StringComparer.Ordinal);
            var blanks = given.RemoveAll(blank => more.ContainsKey(blank.Id));
            var stays = job.Parts.Any(one => one.Gang is not null && MembersOf(one).Contains(part.Id));
            string[] own = mate is null ? [part.Id] : [part.Id, mate.Id];
            job = job with
            {
                Parts =
                [
                    .. job.Parts.SelectMany(one => one.Id == part.Id ? blanks : one.Id == mate?.Id ? []
                        : [more.TryGetValue(one.Id, out var added) ? one with { Gang = one.Gang! with { Blanks = one.Gang.Blanks + added } } : one]),
                ],
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
                        : CutAgain(job, [.. blanks.Where(blank => MembersOf(blank).First() == made)], stock, stays)),
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
    private static IEnumerable<Stock> CutAgain(Job job, ImmutableArray<Part> blanks, Stock stock, bool stays) => stock.Available is not null && (blanks.Length > 1 || stays) ? []
        : blanks.Select(blank => blank.Gang is null ? stock : CutToSize.Again(job, blank, stock)).OfType<Stock>();

    /// <summary>The parts, as the list names them, that come from a blank.</summary>
    public static IEnumerable<string> MembersOf(Part blank) => blank.Gang is { } gang ? gang.Members.Select(member => member.Part) : [blank.Id];

    /// <summary>Rows × columns that the mill takes, fewest rows first.</summary>
    private static IEnumerable<(int Rows, int Columns)> Grids(Job job, Part part, int count) =>
        Enumerable.Range(1, count).Where(rows => count % rows == 0).Select(rows => (Rows: rows, Columns: count / rows)).Where(grid => Takes(job, part, grid.Rows, grid.Columns));

    private static ImmutableArray<Part> Blanks(Job job, Part part, Part? mate, (int Rows, int Columns) grid)
    {
        var count = grid.Rows * grid.Columns;
        var list = new List<Part>();
        var (own, other) = (Left(job, part), mate is null ? 0 : Left(job, mate));
        if (count == 1)
        {
            var stays = job.Parts.Any(one => one.Gang is not null && MembersOf(one).Any(name => name == part.Id || name == mate?.Id));
            return !stays ? mate is null ? [part] : [part, mate]
                : [.. new[] { (Part: part, Left: own), (Part: mate ?? part, Left: other) }.Where(one => one.Left > 0).Select(one => One(job, one.Part, one.Left))];
        }

        if (mate is not null)
        {
            var whole = Math.Min(own, other) / (count / 2);
            Add(job, list, part, mate, grid, whole, false, count / 2, count / 2, own, other);
            (own, other) = (own - (whole * count / 2), other - (whole * count / 2));
            for (var pairs = Math.Min(own, other); pairs > 0;)
            {
                var fits = Largest(job, part, pairs, 2);
                if (fits == 0)
                {
                    break;
                }

                Add(job, list, part, mate, Least(job, part, fits * 2), 1, true, fits, fits, job.DemandOf(part), job.DemandOf(mate));
                (own, other, pairs) = (own - fits, other - fits, pairs - fits);
            }
        }

        foreach (var (one, left) in mate is null ? [(part, own)] : new[] { (part, own), (mate, other) })
        {
            Add(job, list, one, null, grid, left / count, false, count, 0, job.DemandOf(one), 0);
            AddRests(job, list, one, left % count, count);
        }

        return [.. list];
    }

    /// <summary>No whole blank: as large ones as the mill takes.</summary>
    private static ImmutableArray<Part> Rests(Job job, Part part, Part? mate, int most)
    {
        var list = new List<Part>();
        AddRests(job, list, part, Left(job, part), most, none: !job.Parts.Any(one => one.Gang is not null && MembersOf(one).Contains(part.Id)));
        if (mate is not null)
        {
            AddRests(job, list, mate, Left(job, mate), most);
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
            Add(job, list, part, null, Least(job, part, fits), times, !none || list.Count > 0, fits, 0, job.DemandOf(part), 0);
            left -= fits * times;
        }
    }

    private static void Add(
        Job job, List<Part> list, Part part, Part? mate, (int Rows, int Columns) grid, int blanks, bool rest, int count, int mateCount, int asked, int mateAsked)
    {
        if (blanks == 0)
        {
            return;
        }

        var name = Name(part, mate, grid.Rows * grid.Columns);
        var blank = part with
        {
            Id = name,
            Gang = new()
            {
                Rows = grid.Rows, Columns = grid.Columns, Blanks = blanks, Rest = rest,
                Members = mate is null ? [new(part.Id, count, asked)] : [new(part.Id, count, asked), new(mate.Id, mateCount, mateAsked)],
            },
        };

        // Blanks that stay have the name already. A rest of just the size of whole ones that stay needs no set-up of its own.
        if (job.Parts.FirstOrDefault(one => one.Id == name)?.Gang is { } there)
        {
            var same = (there.Rows, there.Columns) == grid && (there.Rest == rest || !there.Rest);
            blank = same ? blank with { Gang = blank.Gang with { Rest = there.Rest } } : blank with { Id = name + " anew" };
        }

        list.Add(blank);
    }

    private static string Name(Part part, Part? mate, int all) =>
        string.Create(CultureInfo.InvariantCulture, $"{(mate is null ? part.Id : $"{part.Id} + {mate.Id}")} ×{all}");

    /// <summary>Whether the job has just such blanks already, which stay as they are.</summary>
    private static bool Standing(Job job, Part blank) => blank.Gang is { } gang && job.Parts.Any(one => one.Id == blank.Id && one.Gang is { } there
        && (there.Rows, there.Columns, there.Rest) == (gang.Rows, gang.Columns, gang.Rest));

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
