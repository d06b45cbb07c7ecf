using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Judge.Enumeration;

/// <summary>Every way to mill the parts of a tiny job several from one blank, from the words of the manual and without the planner's code; two hands of a part are not
/// enumerated.</summary>
public static class GangWays
{
    /// <summary>The jobs of which the cheapest counts.</summary>
    public static IEnumerable<Job> Of(Job job)
    {
        var at = Enumerable.Range(0, job.Parts.Length).FirstOrDefault(index => job.Parts[index] is { PerBlank: not null, Gang: null }, -1);
        if (at < 0)
        {
            return [job];
        }

        var part = job.Parts[at];
        return Ways(job, part).SelectMany(blanks => Of(job with { Parts = [.. job.Parts.Take(at), .. blanks, .. job.Parts.Skip(at + 1)] }));
    }

    private static IEnumerable<Part[]> Ways(Job job, Part part)
    {
        var asked = (part.Quantity * job.Batch) + part.Extra;
        var any = false;
        foreach (var each in part.PerBlank!.Counts.Where(each => each <= asked))
        {
            foreach (var (rows, columns) in Grids(job, part, each))
            {
                any = true;
                List<Part> blanks = [Gang(part, rows, columns, asked / each, false, asked)];
                blanks.AddRange(Left(job, part, asked % each, asked));
                yield return [.. blanks];
            }
        }

        if (!any)
        {
            throw new TooLargeException("No number per blank can be had.");
        }
    }

    private static IEnumerable<Part> Left(Job job, Part part, int left, int asked)
    {
        while (left > 0)
        {
            var most = Enumerable.Range(1, left).Last(count => Grids(job, part, count).Any());
            var clean = SawnBlank.CleanUp(job, part) * 2;
            var (rows, columns) = Grids(job, part, most).OrderBy(grid =>
            {
                var block = Block(Gang(part, grid.Rows, grid.Columns, 1, true, asked));
                return ((block.Length + clean) * (block.Width + clean)).SquareNanometres;
            }).ThenBy(grid => grid.Rows).First();
            yield return Gang(part, rows, columns, left / most, true, asked);
            left %= most;
        }
    }

    private static IEnumerable<(int Rows, int Columns)> Grids(Job job, Part part, int count)
    {
        for (var rows = 1; rows <= count; rows++)
        {
            if (count % rows != 0)
            {
                continue;
            }

            var block = Block(Gang(part, rows, count / rows, 1, false, 1));
            var clean = SawnBlank.CleanUp(job, part) * 2;
            var (a, b) = (block.Length + clean, block.Width + clean);
            var (far, near) = (Length.Max(a, b), a < b ? a : b);
            var held = part.Holding is not (Holding.Vise or Holding.SoftJaws) || job.Mill.ViseOpening is null || near <= job.Mill.ViseOpening;
            if (count == 1 || (held && (job.Mill.TravelX is null || far <= job.Mill.TravelX) && (job.Mill.TravelY is null || near <= job.Mill.TravelY)))
            {
                yield return (rows, count / rows);
            }
        }
    }

    private static Part Gang(Part part, int rows, int columns, int blanks, bool rest, int asked) => part with
    {
        Id = $"{part.Id} {rows * columns}",
        Gang = new() { Rows = rows, Columns = columns, Blanks = blanks, Rest = rest, Members = [new(part.Id, rows * columns, asked)] },
    };

    /// <summary>The part with the sizes of its block.</summary>
    internal static Part Block(Part part) => part.Gang is not { } gang ? part : part with
    {
        Length = (part.Length * gang.Columns) + (part.PerBlank!.Gap * (gang.Columns - 1)),
        Width = (part.Width * gang.Rows) + (part.PerBlank.Gap * (gang.Rows - 1)),
    };
}
