using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Parts;
using Nest.Data.Plans;
using Nest.Data.Toml;

namespace Nest.Data.Jobs;

/// <summary>Reads what parts must not come from: <c>leave_out</c> and <c>not_from</c> for the whole job, <c>[[stock_rule]]</c> for parts; and what
/// leftovers go first: <c>use_first</c>.</summary>
/// <remarks>Names can only be judged when all lists are read, so they are kept with their places (<see cref="Check"/>).</remarks>
internal sealed class StockRulesReader
{
    private enum Kind
    {
        Part,
        Stock,
        Supplier,
        Leftover,
    }

    private readonly List<StockRule> rules = [];
    private readonly List<(ImmutableArray<string> Parts, bool OneStock, bool OneSize, bool Certificate)> ofParts = [];
    private readonly List<(ImmutableArray<string> Parts, int Count, SourcePosition At)> spares = [];
    private readonly List<(Kind Kind, string Name, SourcePosition At)> names = [];

    public ImmutableArray<StockRule> Rules => [.. rules];

    /// <summary>Leftovers to use up first; null: none.</summary>
    public UseFirst? UseFirst { get; private set; }

    /// <summary>What the time of a free spare may cost; null: any.</summary>
    public Money? FreeSparesUpTo { get; private set; }

    /// <summary>The parts with what rules say of them.</summary>
    /// <remarks>Free spares: as the list says, else as the last rule for the part, else as the job.</remarks>
    public IEnumerable<Part> On(IEnumerable<PartRow> rows) => rows.Select(row => ofParts
        .Where(rule => rule.Parts.IsEmpty || rule.Parts.Any(name => Same(name, row.Part.Id)))
        .Aggregate(row.Part with { FreeSpares = row.FreeSpares ?? SparesOf(row.Part) }, (one, rule) => one with
        {
            OneStock = one.OneStock || rule.OneStock,
            OneSize = one.OneSize || rule.OneSize,
            Certificate = one.Certificate || rule.Certificate,
        }));

    public void Read(TomlTable root)
    {
        var first = Names(root, "use_first", Kind.Leftover);
        var days = root.Whole("use_first_older_than_days", 0, 36_500);
        UseFirst = first.IsEmpty && days is null ? null : new() { Names = first, OlderThanDays = days };
        if (root.Whole("free_spares", 0, JobLimits.MostPieces) is { } all)
        {
            spares.Add(([], all, root.At("free_spares")));
        }

        FreeSparesUpTo = root.Number("free_spares_up_to") is { } most ? Money.FromAmount(most) : null;
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
            var (oneStock, oneSize, certificate) = (table.Flag("one_stock"), table.Flag("one_size"), table.Flag("certificate"));
            var free = table.Whole("free_spares", 0, JobLimits.MostPieces);
            table.NoOtherKeys();
            var filters = rule is not { Only.IsEmpty: true, Not.IsEmpty: true, NotFrom.IsEmpty: true, AtMostThicker: null };
            if (!filters && oneStock is null && oneSize is null && certificate is null && free is null && !table.Failed)
            {
                table.Error("part", "stock-rule-empty", "the rule says nothing", "add only, leave_out, not_from, at_most_thicker, one_stock, one_size, certificate or free_spares, or take the rule out");
            }

            if (free is { } count)
            {
                spares.Add((rule.Parts, count, table.At("free_spares")));
            }

            if (filters)
            {
                rules.Add(rule);
            }

            ofParts.Add((rule.Parts, oneStock ?? false, oneSize ?? false, certificate ?? false));
        }
    }

    /// <summary>A part that there is not is an error; a stock or supplier only a note, as the rack's leftovers come later and stock of materials that no
    /// part is made of is left out of a job.</summary>
    public void Check(Job job, FindingList findings)
    {
        foreach (var (parts, count, at) in spares.Where(rule => rule.Count > 0))
        {
            foreach (var part in job.Parts.Where(part => part.PerBlank is not null && parts.Any(name => Same(name, part.Id))))
            {
                findings.Error(
                    "free-spares-per-blank", at, $"'{part.Id}' is milled several from one blank, and free spares are laid singly", "take it out of the rule and ask for 'extra' pieces, or leave its 'per blank' empty");
            }
        }

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
                case Kind.Leftover when !job.Stocks.Any(stock => stock.IsLeftover && StockRule.Names([name], stock)):
                    findings.Note(
                        "use-first-stock", at, $"no leftover that the parts could use has the mark '{name}'",
                        Hint(name, job.Stocks.Where(stock => stock.IsLeftover).Select(stock => stock.RackMark!), "a mark of the rack goes first all the same"));
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

    private int SparesOf(Part part) => part.PerBlank is not null ? 0
        : spares.FindLast(rule => rule.Parts.Any(name => Same(name, part.Id))) is { Parts.IsDefault: false } own ? own.Count
        : spares.FindLast(rule => rule.Parts.IsEmpty) is { Parts.IsDefault: false } all ? all.Count : 0;

    private ImmutableArray<string> Names(TomlTable table, string key, Kind kind)
    {
        var read = table.Texts(key);
        names.AddRange(read.Select(name => (kind, name.Text, name.At)));
        return [.. read.Select(name => name.Text)];
    }

    private static string Hint(string name, IEnumerable<string> known, string otherwise) => Near.Hint(name, known) is { Length: > 0 } hint ? hint : otherwise;

    private static bool Same(string a, string b) => string.Equals(a, b, StringComparison.OrdinalIgnoreCase);
}
