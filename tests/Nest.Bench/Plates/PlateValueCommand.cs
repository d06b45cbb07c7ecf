using System.Collections.Immutable;
using System.CommandLine;
using System.Globalization;
using Nest.Core.Plans;
using Nest.Solve.Plates;
using Nest.Tests.Plates;

namespace Nest.Bench.Plates;

/// <summary>Bench command "plate-value": most value of through-cut pieces on one plate, against known optima.</summary>
internal static class PlateValueCommand
{
    private const string Guillotine = "guillotine";

    private sealed record Case(PlateInstance Instance, string Variant, long? Known, long? Free)
    {
        public bool Turn => Variant.Contains("rotated", StringComparison.Ordinal);
        public bool Unlimited => Variant.StartsWith("unconstrained", StringComparison.Ordinal);
    }

    public static Command Create()
    {
        var data = new Option<string>("--data") { Required = true, Description = "Folder or file of instances" };
        var joins = new Option<long>("--joins") { Description = "Pairs of partial layouts a list may look at", DefaultValueFactory = _ => 1_000_000_000 };
        var limit = new Option<int>("--limit") { DefaultValueFactory = _ => int.MaxValue };
        var every = new Option<int>("--every") { DefaultValueFactory = _ => 1 };
        var jobs = new Option<int>("--jobs") { DefaultValueFactory = _ => 1 };
        var command = new Command("plate-value", "Plates: single-plate value maximisation by through-cuts") { data, joins, limit, every, jobs };
        command.SetAction(parse =>
        {
            var path = parse.GetValue(data)!;
            var cases = PlateData.Read(path, 1, int.MaxValue).SelectMany(i => Cases(i, Known(path)))
                .Where((_, n) => n % parse.GetValue(every) == 0).Take(parse.GetValue(limit)).ToList();
            return Run(cases, parse.GetValue(joins), parse.GetValue(jobs));
        });
        return command;
    }

    private static int Run(List<Case> cases, long joins, int jobs)
    {
        Console.WriteLine("instance,variant,kinds,value,bound,known,free_optimum,seconds,faults");
        var results = new (PlateValues Value, int Faults)[cases.Count];
        var gate = new Lock();
        Parallel.For(0, cases.Count, new ParallelOptions { MaxDegreeOfParallelism = jobs }, n =>
        {
            var one = cases[n];
            var problem = one.Instance.Problem(new PlateCutting(), one.Turn);
            var values = one.Instance.Items.Select(i => i.Value).ToImmutableArray();
            var start = System.Diagnostics.Stopwatch.StartNew();
            var value = PlateValues.Of(problem.Stocks[0], 0, problem.Items, values, one.Unlimited, joins);
            var faults = Check(problem, one, values, value);
            results[n] = (value, faults);
            lock (gate)
            {
                Console.WriteLine(string.Create(
                    CultureInfo.InvariantCulture,
                    $"{one.Instance.Name},{one.Variant.Replace(',', ';')},{values.Length},{value.Value},{value.Bound},{one.Known},{one.Free},{start.Elapsed.TotalSeconds:F2},{faults}"));
            }
        });

        var known = cases.Select((c, n) => (c.Known, results[n].Value.Value)).Where(p => p.Known.HasValue).ToList();
        var worst = known.Count == 0 ? 0 : known.Max(p => 1 - ((double)p.Value / p.Known!.Value));
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"RESULT cases={cases.Count} known={known.Count} reached={known.Count(p => p.Value >= p.Known)} above={known.Count(p => p.Value > p.Known)} worst={worst:P2} proven={results.Count(r => r.Value.Value == r.Value.Bound)} faults={results.Sum(r => r.Faults)}"));
        return results.Any(r => r.Faults > 0) ? 1 : 0;
    }

    private static int Check(PlateProblem problem, Case one, ImmutableArray<long> values, PlateValues value)
    {
        if (value.Layout is not { } layout)
        {
            return value.Value == 0 ? 0 : 1;
        }

        var faults = ThroughCutChecker.CheckLayout(problem, layout).Count;
        var over = layout.Pieces.GroupBy(p => p.Item).Any(g => !one.Unlimited && g.Count() > problem.Items[g.Key].Demand);
        return faults + (over ? 1 : 0) + (layout.Pieces.Sum(p => values[p.Item]) == value.Value ? 0 : 1) + (value.Bound < value.Value ? 1 : 0);
    }

    private static IEnumerable<Case> Cases(PlateInstance instance, ILookup<string, (string Variant, long Value)> known)
    {
        var rows = known[instance.Name].ToList();
        var free = rows.Where(r => !r.Variant.Contains(Guillotine + ",", StringComparison.Ordinal) && !r.Variant.StartsWith("each", StringComparison.Ordinal))
            .Select(r => (long?)r.Value).FirstOrDefault();
        var through = rows.Where(r => r.Variant.Contains(" " + Guillotine + ",", StringComparison.Ordinal)).ToList();
        return through.Count > 0
            ? through.Select(r => new Case(instance, r.Variant, r.Value, free))
            : [new Case(instance, instance.Unlimited ? "unconstrained guillotine, oriented" : "constrained guillotine, oriented", null, free)];
    }

    private static ILookup<string, (string, long)> Known(string path)
    {
        var folder = Directory.Exists(path) ? path : Path.GetDirectoryName(path) ?? ".";
        var file = Path.Combine(folder, "known_values.csv");
        return (File.Exists(file) ? File.ReadLines(file).Where(l => l.Length > 0 && l[0] != '#').Skip(1) : [])
            .Select(l => l.Split(';'))
            .ToLookup(c => c[0], c => (c[1], long.Parse(c[2], CultureInfo.InvariantCulture)));
    }
}
