using System.Collections.Immutable;
using System.CommandLine;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Cli.Commands;

/// <summary>What parts must not come from, on the command line: the same as <c>leave_out</c>, <c>not_from</c> and <c>[[stock_rule]]</c> of a job file,
/// on top of them.</summary>
internal sealed class RuleOptions
{
    private readonly Option<string[]> leaveOut = Names("--leave-out", "Stock or leftover that is not used: its id or mark, for one part PART=ID. Give it again for more.", "ID");
    private readonly Option<string[]> only = Names("--only", "Only this stock for a part: PART=ID, or PART=ID,ID.", "PART=ID");
    private readonly Option<string[]> notFrom = Names("--not-from", "Supplier that nothing is bought from, for one part PART=NAME.", "NAME");
    private readonly Option<string[]> thicker = Names("--at-most-thicker", "Most that stock may be thicker than the finished part: 3, or for one part PART=3.", "LENGTH");

    public RuleOptions(Command command)
    {
        command.Add(leaveOut);
        command.Add(only);
        command.Add(notFrom);
        command.Add(thicker);
    }

    /// <summary>The job with these rules; null after names or lengths that mean nothing in it, which is said.</summary>
    public Job? On(Job job, ParseResult parsed, TextWriter error)
    {
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

        return fine ? job with { StockRules = [.. job.StockRules, .. rules] } : null;

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

    private static Option<string[]> Names(string name, string description, string help) => new(name) { Description = description, HelpName = help };
}
