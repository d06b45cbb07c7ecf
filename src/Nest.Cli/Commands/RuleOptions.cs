using System.Collections.Immutable;
using System.CommandLine;
using System.Globalization;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Cli.Commands;

/// <summary>What parts must not come from and leftovers that go first, on the command line: the same as <c>leave_out</c>, <c>not_from</c>,
/// <c>[[stock_rule]]</c> and <c>use_first</c> of a job file, on top of them.</summary>
internal sealed class RuleOptions
{
    private readonly Option<string[]> leaveOut = Names("--leave-out", "Stock or leftover that is not used: its id or mark, for one part PART=ID. Give it again for more.", "ID");
    private readonly Option<string[]> only = Names("--only", "Only this stock for a part: PART=ID, or PART=ID,ID.", "PART=ID");
    private readonly Option<string[]> notFrom = Names("--not-from", "Supplier that nothing is bought from, for one part PART=NAME.", "NAME");
    private readonly Option<string[]> thicker = Names("--at-most-thicker", "Most that stock may be thicker than the finished part: 3, or for one part PART=3.", "LENGTH");

    private readonly Option<string[]> oneStock = Names("--one-stock", "Part whose pieces all come from one stock; 'all' for every part.", "PART");
    private readonly Option<string[]> oneSize = Names("--one-size", "Part whose blanks all have one size; 'all' for every part.", "PART");
    private readonly Option<string[]> certificate = Names("--certificate", "Part whose metal needs a certificate; 'all' for every part.", "PART");
    private readonly Option<string[]> useFirst = Names("--use-first", "Mark of a leftover that is to be used up first.", "MARK");
    private readonly Option<int?> older = new("--use-first-older-than-days") { Description = "Leftovers of the rack entered so many days ago go first.", HelpName = "DAYS" };

    private readonly Option<string[]> spares = Names(
        "--free-spares", "Spares wanted of each part where they take no more metal: 2, or for one part PART=2; cut from what would be scrap.", "NUMBER");

    private readonly Option<string?> sparesUpTo = new("--free-spares-up-to") { Description = "What the time of a free spare may cost at saw and mill, on average. Default: any.", HelpName = "AMOUNT" };

    public RuleOptions(Command command)
    {
        foreach (var option in (Option[])[oneStock, oneSize, certificate, spares, sparesUpTo, useFirst, older])
        {
            command.Add(option);
        }

        command.Add(leaveOut);
        command.Add(only);
        command.Add(notFrom);
        command.Add(thicker);
    }

    /// <summary>The job with these rules; null after names or lengths that mean nothing in it, which is said.</summary>
    public Job? On(Job job, ParseResult parsed, World world)
    {
        var error = world.Error;
        var rules = new List<StockRule>();
        var fine = true;
        foreach (var (option, kind) in new[] { (leaveOut, 'n'), (only, 'o'), (notFrom, 's'), (thicker, 't') })
        {
            foreach (var text in parsed.GetValue(option) ?? [])
            {
                var (part, what) = Split(job, text);
                if (kind == 'o' && part is null)
                {
                    Refuse($"{option.Name} {text}: it wants a part in front of the stock: PART=ID; the job has {string.Join(", ", job.Parts.Select(one => one.Id))}");
                    continue;
                }

                ImmutableArray<string> names = kind == 'o' ? [.. what.Split(',', StringSplitOptions.TrimEntries)] : [what];
                var length = kind == 't' ? LengthText.Read(what, job.Unit) : default;
                if (kind is 'n' or 'o' && names.FirstOrDefault(name => !job.Stocks.Any(stock => StockRule.Names([name], stock))) is { } unknown)
                {
                    Refuse($"{option.Name} {text}: there is no stock '{unknown}'; 'nest blanks JOB --all' names all");
                }
                else if (kind == 's' && !job.Stocks.Any(stock => string.Equals(stock.Supplier, what, StringComparison.OrdinalIgnoreCase)))
                {
                    Refuse($"{option.Name} {text}: nothing is sold by '{what}'; there are {string.Join(", ", job.Stocks.Select(stock => stock.Supplier).OfType<string>().Distinct(StringComparer.OrdinalIgnoreCase))}");
                }
                else if (kind == 't' && length.Value is null)
                {
                    Refuse($"{option.Name} {text}: {length.Error}");
                }
                else if (kind == 't' && length.Value < Length.Zero)
                {
                    Refuse($"{option.Name} {text}: it cannot be below zero");
                }
                else
                {
                    var rule = new StockRule { Parts = part is null ? [] : [part] };
                    rules.Add(kind switch
                    {
                        'n' => rule with { Not = names },
                        'o' => rule with { Only = names },
                        's' => rule with { NotFrom = names },
                        _ => rule with { AtMostThicker = length.Value },
                    });
                }
            }
        }

        var parts = job.Parts.ToArray();
        foreach (var (option, set) in new (Option<string[]>, Func<Part, Part>)[]
        {
            (oneStock, part => part with { OneStock = true }), (oneSize, part => part with { OneSize = true }), (certificate, part => part with { Certificate = true }),
        })
        {
            foreach (var name in parsed.GetValue(option) ?? [])
            {
                var all = string.Equals(name.Trim(), "all", StringComparison.OrdinalIgnoreCase);
                if (!all && !parts.Any(part => Same(part.Id, name)))
                {
                    Refuse($"{option.Name} {name}: the job has no such part; it has {string.Join(", ", parts.Select(one => one.Id))}");
                }

                parts = [.. parts.Select(part => all || Same(part.Id, name) ? set(part) : part)];
            }
        }

        foreach (var text in parsed.GetValue(spares) ?? [])
        {
            var (one, number) = Split(job, text);
            if (!int.TryParse(number, NumberStyles.None, CultureInfo.InvariantCulture, out var count) || count > 1_000_000)
            {
                Refuse($"{spares.Name} {text}: it wants a whole number from 0 to 1000000, for one part PART=NUMBER; the job has {string.Join(", ", job.Parts.Select(part => part.Id))}");
            }
            else if (count > 0 && one is not null && parts.First(part => part.Id == one).PerBlank is not null)
            {
                Refuse($"{spares.Name} {text}: {one} is milled several from one blank, and free spares are laid singly; ask for extra pieces in the parts list");
            }

            parts = [.. parts.Select(part => (one is null && part.PerBlank is null) || part.Id == one ? part with { FreeSpares = count } : part)];
        }

        var upTo = job.FreeSparesUpTo;
        if (parsed.GetValue(sparesUpTo) is { } amount)
        {
            if (NumberText.Read(amount) is { Value: { } most } && most is >= 0m and <= 1_000_000m)
            {
                upTo = Money.FromAmount(most);
            }
            else
            {
                Refuse($"{sparesUpTo.Name} {amount}: it wants an amount from 0 to 1000000, as 0.50");
            }
        }

        var first = parsed.GetValue(useFirst) ?? [];
        foreach (var name in first.Where(name => !job.Stocks.Any(stock => stock.IsLeftover && StockRule.Names([name], stock))))
        {
            Refuse($"{useFirst.Name} {name}: there is no such leftover; there are {string.Join(", ", job.Stocks.Select(stock => stock.RackMark).OfType<string>())}");
        }

        if (parsed.GetValue(older) is < 0)
        {
            Refuse($"{older.Name} {parsed.GetValue(older)}: it cannot be below zero");
        }

        if (!fine)
        {
            return null;
        }

        var ruled = job with { StockRules = [.. job.StockRules, .. rules], Parts = [.. parts], FreeSparesUpTo = upTo };
        if (first.Length > 0 || parsed.GetValue(older) is not null)
        {
            ruled = ruled with { UseFirst = new() { Names = [.. job.UseFirst?.Names ?? [], .. first], OlderThanDays = parsed.GetValue(older) ?? job.UseFirst?.OlderThanDays } };
        }

        Screen.Report(error, [.. LeftoversFirst.Notes(ruled)]);
        return LeftoversFirst.Apply(ruled, DateOnly.FromDateTime(world.Time.GetLocalNow().DateTime));

        void Refuse(string why)
        {
            error.WriteLine("error: " + why);
            fine = false;
        }
    }

    /// <summary>A part of the job in front of an equals sign.</summary>
    private static (string? Part, string What) Split(Job job, string text)
    {
        var at = text.IndexOf('=', StringComparison.Ordinal);
        var part = at < 0 ? null : job.Parts.FirstOrDefault(one => string.Equals(one.Id, text[..at].Trim(), StringComparison.OrdinalIgnoreCase))?.Id;
        return part is null ? (null, text.Trim()) : (part, text[(at + 1)..].Trim());
    }

    private static bool Same(string a, string b) => string.Equals(a.Trim(), b.Trim(), StringComparison.OrdinalIgnoreCase);

    private static Option<string[]> Names(string name, string description, string help) => new(name) { Description = description, HelpName = help };
}
