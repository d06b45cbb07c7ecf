using System.Collections.Immutable;
using System.Globalization;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Output.Files;

namespace Nest.Desk.Model;

/// <summary>A plan that may be compared.</summary>
/// <param name="Name">A letter, or that it is the signed one.</param>
/// <param name="Found">The search that found it; null: it is the one in the folder.</param>
internal sealed record Variant(string Name, Plan Plan, Search? Found);

/// <summary>A row of the comparison, its values as shown.</summary>
internal sealed record VariantRow(string Label, IReadOnlyList<string> Values);

/// <summary>The plans of a job side by side, with the figures and the words of <c>nest compare</c>, and the way back to one of them.</summary>
internal sealed class VariantRoom(PartsDesk lists, Searches searches, Plans plans)
{
    /// <summary>Differences that are named at most.</summary>
    private const int MostNamed = 6;

    /// <summary>The signed plan, then those found since the desk was started, oldest first.</summary>
    public IReadOnlyList<Variant> Of(string job, JobFolder? folder)
    {
        var found = searches.Found(job).Select((one, at) => new Variant($"{DeskTexts.Variant} {(char)('A' + at)}", one.Plan, one.Search)).ToList();
        var signed = folder is null ? null : plans.Saved(folder)?.Plan;
        if (signed is null)
        {
            return found;
        }

        var mark = Fingerprint.Of(signed);
        return found.Exists(one => Fingerprint.Of(one.Plan) == mark)
            ? [.. found.Select(one => Fingerprint.Of(one.Plan) == mark ? one with { Name = $"{one.Name} ({DeskTexts.SignedOne})" } : one)]
            : [new($"{DeskTexts.Plan} ({DeskTexts.SignedOne})", signed, null), .. found];
    }

    public static IReadOnlyList<VariantRow> Rows(IReadOnlyList<Variant> variants) => variants.Count == 0 ? [] :
        [.. PlanComparison.Rows(variants[0].Plan.Job.Currency).Select(row => new VariantRow(row.Label.Trim(), [.. variants.Select(variant =>
            row.Of(variant.Plan)?.ToString("F" + row.Decimals, CultureInfo.InvariantCulture) ?? "–")]))];

    /// <summary>What is proven of the difference, in a sentence.</summary>
    public static string Verdict(Variant first, Variant other)
    {
        if (first.Plan.Job.Currency != other.Plan.Job.Currency)
        {
            return $"{other.Name}: it is in {other.Plan.Job.Currency}, so the costs cannot be compared.";
        }

        var words = PlanComparison.Verdict(first.Name, first.Plan, other.Name, other.Plan, DeskTexts.MoreSeconds);
        return Demand(first.Plan.Job).SequenceEqual(Demand(other.Plan.Job)) ? words : $"{words} They do not make the same pieces.";
    }

    /// <summary>What the other plan's job has else than the first one's.</summary>
    public static IEnumerable<string> Differences(Plan first, Plan other) => Words(first, other).Take(MostNamed).DefaultIfEmpty("nothing: the same job, searched again");

    /// <summary>The job's own texts by full path: its file, and its lists that are text.</summary>
    public IReadOnlyDictionary<string, byte[]> Texts(JobFolder folder) =>
        lists.Of(folder, out _).Select(list => list.Path).Prepend(folder.File).Where(File.Exists).Distinct(StringComparer.Ordinal).ToDictionary(path => path, File.ReadAllBytes, StringComparer.Ordinal);

    /// <summary>Goes back to a plan: the job's texts are as they were for it, and it is the one to sign.</summary>
    /// <returns>Why not; empty when it is done.</returns>
    public string Take(JobFolder folder, Variant variant)
    {
        if (variant.Found is not { } search)
        {
            searches.Forget(folder.Name);
            return "";
        }

        try
        {
            var known = searches.Found(folder.Name).Select(one => one.Search).Append(searches.Of(folder.Name)).OfType<Search>().ToList();
            foreach (var (path, text) in Texts(folder))
            {
                // Only what some plan here was made from is replaced: what was typed since, or in an editor, would be lost.
                if (!known.Exists(one => one.Texts.TryGetValue(path, out var then) && then.AsSpan().SequenceEqual(text)))
                {
                    return $"{Path.GetFileName(path)} was changed since the last plan: plan it first, so that this is not lost, then go back.";
                }
            }

            foreach (var (path, text) in search.Texts)
            {
                WholeFile.Write(path, text);
            }

            searches.Show(folder.Name, search);
            return "";
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            return $"Nothing was changed: {problem.Message}";
        }
    }

    private static IEnumerable<(string Part, int Count)> Demand(Job job) => job.Parts.Select(part => (part.Id, job.DemandOf(part))).Order();

    private static IEnumerable<string> Words(Plan first, Plan other)
    {
        var (a, b) = (first.Job, other.Job);
        if (a.Batch != b.Batch)
        {
            yield return Text($"{b.Batch} sets, not {a.Batch}");
        }

        var before = a.Parts.ToDictionary(part => part.Id, StringComparer.OrdinalIgnoreCase);
        foreach (var part in b.Parts)
        {
            if (!before.Remove(part.Id, out var was))
            {
                yield return $"{part.Id} is new";
            }
            else if (part.Quantity != was.Quantity || part.Extra != was.Extra)
            {
                yield return Text($"{part.Id}: {b.DemandOf(part)} pieces, not {a.DemandOf(was)}");
            }
            else if ((part.Length, part.Width, part.Thickness, part.MaterialId) != (was.Length, was.Width, was.Thickness, was.MaterialId))
            {
                yield return $"{part.Id} has another size or material";
            }
        }

        foreach (var gone in before.Keys)
        {
            yield return $"{gone} is left out";
        }

        foreach (var (names, word) in new[] { (Out(b).Except(Out(a)), "without"), (Out(a).Except(Out(b)), "with"), (First(b).Except(First(a)), "first"), (First(a).Except(First(b)), "no longer first") })
        {
            foreach (var name in names)
            {
                yield return $"{word}: {name}";
            }
        }

        if (a.MostSuppliers != b.MostSuppliers)
        {
            yield return b.MostSuppliers is { } most ? Text($"{most} suppliers at most") : "any number of suppliers";
        }

        if (first.Layouts.Count(layout => layout.Kept) != other.Layouts.Count(layout => layout.Kept))
        {
            yield return other.Layouts.Count(layout => layout.Kept) is var kept && kept == 1 ? "one layout kept as it was" : Text($"{kept} layouts kept as they were");
        }
    }

    /// <summary>Stock that is left out for all parts.</summary>
    private static IEnumerable<string> Out(Job job) => job.StockRules.Where(rule => rule.Parts.IsEmpty).SelectMany(rule => rule.Not);

    private static ImmutableArray<string> First(Job job) => job.UseFirst?.Names ?? [];

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
