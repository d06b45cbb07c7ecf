using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Data.Toml;

namespace Nest.Data.Jobs;

/// <summary>Reads what parts must not come from: <c>leave_out</c> and <c>not_from</c> for the whole job, <c>[[stock_rule]]</c> for parts.</summary>
/// <remarks>Names can only be judged when all lists are read, so they are kept with their places (<see cref="Check"/>).</remarks>
internal sealed class StockRulesReader
{
    private enum Kind
    {
        Part,
        Stock,
        Supplier,
    }

    private readonly List<StockRule> rules = [];
    private readonly List<(Kind Kind, string Name, SourcePosition At)> names = [];

    public ImmutableArray<StockRule> Rules => [.. rules];

    public void Read(TomlTable root)
    {
        var (out_, from) = (Names(root, "leave_out", Kind.Stock), Names(root, "not_from", Kind.Supplier));
        if (!out_.IsEmpty || !from.IsEmpty)
        {
            rules.Add(new() { Not = out_, NotFrom = from });
        }

        foreach (var table in root.Tables("stock_rule"))
        {
            var rule = new StockRule
            {
                Parts = Names(table, "part", Kind.Part),
                Only = Names(table, "only", Kind.Stock),
                Not = Names(table, "leave_out", Kind.Stock),
                NotFrom = Names(table, "not_from", Kind.Supplier),
                AtMostThicker = table.Length("at_most_thicker"),
            };
            table.NoOtherKeys();
            if (rule is { Only.IsEmpty: true, Not.IsEmpty: true, NotFrom.IsEmpty: true, AtMostThicker: null } && !table.Failed)
            {
                table.Error("part", "stock-rule-empty", "the rule says nothing", "add only, leave_out, not_from or at_most_thicker, or take the rule out");
            }

            rules.Add(rule);
        }
    }

    /// <summary>A part that there is not is an error; a stock or supplier only a note, as the rack's leftovers come later and stock of materials that no
    /// part is made of is left out of a job.</summary>
    public void Check(Job job, FindingList findings)
    {
        foreach (var (kind, name, at) in names)
        {
            switch (kind)
            {
                case Kind.Part when !job.Parts.Any(part => Same(part.Id, name)):
                    findings.Error("stock-rule-part", at, $"the job has no part '{name}'", Hint(name, job.Parts.Select(part => part.Id), "name a part of the parts list"));
                    break;
                case Kind.Stock when !job.Stocks.Any(stock => StockRule.Names([name], stock)):
                    findings.Note(
                        "stock-rule-stock", at, $"no stock that the parts could use is called '{name}'",
                        Hint(name, job.Stocks.Select(stock => stock.Id), "a mark of the rack is left out all the same"));
                    break;
                case Kind.Supplier when !job.Stocks.Any(stock => Same(stock.Supplier ?? "", name)):
                    findings.Note(
                        "stock-rule-supplier", at, $"nothing that the parts could use is sold by '{name}'",
                        Hint(name, job.Stocks.Select(stock => stock.Supplier).OfType<string>(), "write the supplier as in the price list"));
                    break;
                default:
                    break;
            }
        }
    }

    private ImmutableArray<string> Names(TomlTable table, string key, Kind kind)
    {
        var read = table.Texts(key);
        names.AddRange(read.Select(name => (kind, name.Text, name.At)));
        return [.. read.Select(name => name.Text)];
    }

    private static string Hint(string name, IEnumerable<string> known, string otherwise) => Near.Hint(name, known) is { Length: > 0 } hint ? hint : otherwise;

    private static bool Same(string a, string b) => string.Equals(a, b, StringComparison.OrdinalIgnoreCase);
}
