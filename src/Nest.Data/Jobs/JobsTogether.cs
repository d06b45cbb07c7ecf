using System.Collections.Immutable;
using System.Text.Json;
using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Data.Plans;

namespace Nest.Data.Jobs;

/// <summary>Makes one job of several, so that they are bought and cut as one, and takes single ones out of it again.</summary>
/// <remarks>
/// Problem: jobs of one shop, each with its own parts and sets, are to share purchase and layouts. Method: their parts stand side by side, named by job, with the
/// quantities of all sets; stock is the union by name. What counts for the whole plan (saws, rates, fuss, terms of suppliers …) must be the same in all, for
/// one plan has one of each; what differs is refused by name. Rules of a job hold for its own parts. O(jobs × (parts + stocks)).
/// </remarks>
public static class JobsTogether
{
    private const string Rule = "together";

    /// <summary>The jobs as one.</summary>
    /// <param name="jobs">Names that stand in front of their parts, each once and without <c>/</c>; a job for as many sets as are wanted.</param>
    /// <returns>No value where they do not go together; each difference is a finding.</returns>
    public static ReadResult<JobInput> Join(IReadOnlyList<(string Name, JobInput Input)> jobs)
    {
        var findings = new FindingList();
        var first = jobs[0].Input;
        foreach (var (name, input) in jobs)
        {
            if (input.Keep is not null)
            {
                findings.Error(Rule, new(name), "its [keep] speaks of a plan of this job alone", "leave it out, or name layouts of the plan of all jobs with --keep");
            }

            foreach (var (what, value) in Shop(first.Job).Zip(Shop(input.Job), (a, b) => (a.What, Same: Text(a.Value) == Text(b.Value))))
            {
                if (!value)
                {
                    findings.Error(Rule, new(name), $"{what} is not what it is in {jobs[0].Name}, and one plan has one", "give both jobs the same, best from the same file of the shop");
                }
            }
        }

        var stocks = Union(jobs, findings, "stock", input => input.Job.Stocks.Where(stock => stock.CutFor is null), stock => stock.Id, StringComparer.Ordinal);
        var materials = Union(jobs, findings, "material", input => input.Job.Materials, material => material.Id, StringComparer.OrdinalIgnoreCase);
        var suppliers = Union(jobs, findings, "supplier", input => input.Job.Suppliers, supplier => supplier.Name, StringComparer.OrdinalIgnoreCase);
        var alike = jobs.All(one => Text(one.Input.Job.AllowanceRules) == Text(first.Job.AllowanceRules));
        var ruledAlike = jobs.All(one => Text(one.Input.Job.StockRules) == Text(first.Job.StockRules)) && first.Job.StockRules.All(rule => rule.Parts.IsEmpty);
        if (findings.Errors > 0)
        {
            return new(null, findings.ToImmutable());
        }

        var shared = jobs.Select(one => new SharedJob(one.Name, one.Input.Job.Batch)).ToImmutableArray();
        var pairs = jobs.Zip(shared, (one, job) => (one.Input, Shared: job)).ToList();
        var whole = first.Job with
        {
            Name = string.Join(" + ", shared.Select(one => one.Name)),
            Batch = 1,
            Together = shared,
            Materials = materials,
            Suppliers = suppliers,
            Stocks = [.. stocks, .. pairs.SelectMany(one => one.Input.Job.Stocks.Where(stock => stock.CutFor is not null).Select(stock => CutFor(stock, one.Shared)))],
            Parts = [.. pairs.SelectMany(one => one.Input.Job.Parts.Select(part => Named(one.Input.Job, part, one.Shared, alike)))],
            AllowanceRules = alike ? first.Job.AllowanceRules : [],
            StockRules = ruledAlike ? first.Job.StockRules : [.. pairs.SelectMany(one => one.Input.Job.StockRules.Select(rule => ForOwn(rule, one.Input.Job, one.Shared)))],
        };
        return new(
            first with
            {
                Job = whole,
                Seconds = jobs.Max(one => one.Input.Seconds),
                Correspondence = first.Correspondence with
                {
                    Suppliers = [.. jobs.SelectMany(one => one.Input.Correspondence.Suppliers).DistinctBy(card => card.Supplier, StringComparer.OrdinalIgnoreCase)],
                },
                PartsLists = [.. jobs.SelectMany(one => one.Input.PartsLists)],
                Doubts = [.. jobs.SelectMany(one => one.Input.Doubts)],
                SizeTexts = ByPart(pairs, input => input.SizeTexts),
                DesignLimits = ByPart(pairs, input => input.DesignLimits),
                Models = ByPart(pairs, input => input.Models),
                PartRows = ByPart(pairs, input => input.PartRows),
                StockRows = jobs.SelectMany(one => one.Input.StockRows).DistinctBy(row => row.Key).ToImmutableDictionary(row => row.Key, row => row.Value),
            },
            findings.ToImmutable());
    }

    /// <summary>The joined job with the parts of these of its jobs only; stock and rules as they are.</summary>
    public static Job Only(Job whole, IReadOnlyCollection<SharedJob> jobs)
    {
        var parts = whole.Parts.Where(part => jobs.Any(one => one.Owns(part.Id))).ToImmutableArray();
        var names = parts.Select(part => part.Id).ToHashSet(StringComparer.Ordinal);
        return whole with
        {
            Name = string.Join(" + ", jobs.Select(one => one.Name)),
            Together = [.. jobs],
            Parts = parts,
            Stocks = [.. whole.Stocks.Where(stock => stock.CutFor is not { } part || names.Contains(part))],
            StockRules =
            [
                .. whole.StockRules.Select(rule => rule.Parts.IsEmpty ? rule : rule with { Parts = [.. rule.Parts.Where(names.Contains)] })
                    .Where((rule, at) => whole.StockRules[at].Parts.IsEmpty || !rule.Parts.IsEmpty),
            ],
        };
    }

    /// <summary>What one plan has once.</summary>
    private static IEnumerable<(string What, object? Value)> Shop(Job job) =>
    [
        ("the currency", job.Currency), ("the unit", job.Unit), ("the list of saws", job.Saws), ("[mill]", job.Mill), ("[fuss]", job.Fuss), ("the rule for offcuts", job.OffcutRules),
        ("the most suppliers", job.MostSuppliers), ("the day that it is wanted", job.WantedInDays), ("the list of leftovers to use first", job.UseFirst), ("the tax", job.Tax), ("free_spares_up_to", job.FreeSparesUpTo),
        ("the limit for lifting", job.LiftLimit), ("the limit for long bars", job.LongBar),
    ];

    private static Part Named(Job job, Part part, SharedJob shared, bool alike) => part with
    {
        Id = shared.NameOf(part.Id),
        PerBlank = part.PerBlank is { With: { } mate } rule ? rule with { With = shared.NameOf(mate) } : part.PerBlank,
        Quantity = checked(part.Quantity * shared.Sets),
        Allowances = alike ? part.Allowances : Resolved(BlankSizer.AllowancesFor(job, part, job.MaterialOf(part.MaterialId))),
    };

    private static AllowanceOverrides Resolved(Allowances all) =>
        new() { SideCleanUp = all.SideCleanUp, EndCleanUp = all.EndCleanUp, FaceTop = all.FaceTop, FaceBottom = all.FaceBottom, Grip = all.Grip };

    private static Stock CutFor(Stock stock, SharedJob shared) => stock with
    {
        Id = $"{stock.Id[..^stock.CutFor!.Length]}{shared.NameOf(stock.CutFor!)}",
        CutFor = shared.NameOf(stock.CutFor!),
    };

    private static StockRule ForOwn(StockRule rule, Job job, SharedJob shared) => rule with
    {
        Parts = [.. (rule.Parts.IsEmpty ? job.Parts.Select(part => part.Id) : rule.Parts).Select(shared.NameOf)],
    };

    /// <summary>Everything that any of the jobs has, by name; two that differ under one name are refused.</summary>
    private static ImmutableArray<T> Union<T>(
        IReadOnlyList<(string Name, JobInput Input)> jobs, FindingList findings, string what, Func<JobInput, IEnumerable<T>> of, Func<T, string> id, StringComparer names)
    {
        var all = ImmutableArray.CreateBuilder<T>();
        var known = new Dictionary<string, (string Job, T Value)>(names);
        foreach (var (name, input) in jobs)
        {
            foreach (var one in of(input))
            {
                if (known.TryAdd(id(one), (name, one)))
                {
                    all.Add(one);
                }
                else if (Text(known[id(one)].Value) != Text(one))
                {
                    findings.Error(
                        Rule, new(name), $"{what} '{id(one)}' is another one in {known[id(one)].Job}",
                        what == "stock" ? "use the same list in both; of a leftover, a mark is one piece of metal" : "use the same list in both");
                }
            }
        }

        return all.ToImmutable();
    }

    private static ImmutableDictionary<string, T> ByPart<T>(IEnumerable<(JobInput Input, SharedJob Shared)> jobs, Func<JobInput, IReadOnlyDictionary<string, T>> of) =>
        jobs.SelectMany(one => of(one.Input).Select(pair => (Key: one.Shared.NameOf(pair.Key), pair.Value))).ToImmutableDictionary(pair => pair.Key, pair => pair.Value);

    // Two values are the same where they would stand alike in a plan file.
    private static string Text<T>(T value) => JsonSerializer.Serialize(value, value?.GetType() ?? typeof(T), PlanJson.Options);
}
