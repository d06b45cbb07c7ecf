using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Output.Sheets;

namespace Nest.Output.Orders;

/// <summary>The owner's rules that a plan keeps to, in words: so that who reads it knows why it is not cheaper.</summary>
/// <remarks>From the plan's job alone; the checker reads the same rules by itself. O(parts + rules).</remarks>
internal static class OwnersRules
{
    private const int Named = 6;

    public static IEnumerable<string> Of(SheetContext context)
    {
        var (job, texts) = (context.Job, context.Texts);
        foreach (var (which, words) in new (Func<Part, bool>, string)[]
        {
            (part => part.OneStock, texts.RuleOneStock), (part => part.OneSize && !part.OneStock, texts.RuleOneSize), (part => part.Certificate, texts.RuleCertificate),
        })
        {
            if (job.Parts.Where(which).Select(part => part.Id).ToImmutableArray() is { IsEmpty: false } parts)
            {
                yield return SheetContext.Fill(words, parts.Length == job.Parts.Length ? texts.RuleAllParts : Names(context, parts));
            }
        }

        foreach (var rule in job.StockRules)
        {
            var parts = rule.Parts.IsEmpty ? texts.RuleAllParts : Names(context, rule.Parts);
            if (!rule.Only.IsEmpty)
            {
                yield return SheetContext.Fill(texts.RuleOnly, parts, Names(context, rule.Only));
            }

            if (!rule.Not.IsEmpty)
            {
                yield return SheetContext.Fill(texts.RuleNot, parts, Names(context, rule.Not));
            }

            if (!rule.NotFrom.IsEmpty)
            {
                yield return SheetContext.Fill(texts.RuleNotFrom, parts, Names(context, rule.NotFrom));
            }

            if (rule.AtMostThicker is { } most)
            {
                yield return SheetContext.Fill(texts.RuleThicker, parts, context.Length(most));
            }
        }

        if (job.MostSuppliers is { } suppliers)
        {
            yield return SheetContext.Fill(texts.RuleSuppliers, suppliers);
        }

        if (job.Stocks.Where(stock => stock.UseFirst).Select(stock => stock.RackMark ?? stock.Id).ToImmutableArray() is { IsEmpty: false } first)
        {
            yield return SheetContext.Fill(texts.RuleFirst, Names(context, first));
        }

        if (context.Plan.Layouts.Where(layout => layout.Kept).Select(layout => SheetContext.Text(layout.Number)).ToImmutableArray() is { IsEmpty: false } kept)
        {
            yield return SheetContext.Fill(texts.RuleKept, Names(context, kept));
        }
    }

    private static string Names(SheetContext context, ImmutableArray<string> names) =>
        string.Join(", ", names.Take(Named)) + (names.Length > Named ? " " + SheetContext.Fill(context.Texts.AndMore, names.Length - Named) : "");
}
