using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Solve.Choose;

namespace Nest.Solve.Gangs;

/// <summary>A bound for every choice of numbers per blank, whether it was planned or not.</summary>
/// <remarks>
/// Relaxation: the blanks of all options stand side by side in one job, each with the stocks that serve it, at the lowest prices and without what orders, settings and fuss add. The values of
/// <see cref="SizeBound"/> make no layout of any of these blanks worth more than it costs. A plan of one choice is made of layouts of its blanks alone, so it costs at least their values; and
/// as the options of a part are chosen apart from those of another, the least over all choices is the sum of each part's least option. What whole pieces of stock add is
/// <see cref="FirstPiece"/>. Leftovers below their scrap value are treated as
/// everywhere (<see cref="StockTwins"/>), layouts that stay cost what they cost, less the price breaks that they may bring. None where some stock is worth more left over than bought.
/// Guarantee: bound; whole numbers only. O(options · parts · stocks), nothing is searched.
/// </remarks>
internal sealed class GangBound
{
    private readonly Int128[][] _options;
    private readonly List<FirstPiece> _pieces = [];

    /// <summary>What is the same in all choices.</summary>
    private readonly Int128 _rest;
    private readonly bool _known;

    /// <param name="job">With open numbers.</param>
    /// <param name="groups">The parts whose number is open, with the options that are looked at.</param>
    public GangBound(Job job, IReadOnlyList<(Part Part, Part? Mate, ImmutableArray<ImmutableArray<Part>> Options)> groups)
    {
        _options = [.. groups.Select(group => new Int128[group.Options.Length])];
        var open = groups.SelectMany(group => group.Mate is { } mate ? new[] { group.Part.Id, mate.Id } : [group.Part.Id]).ToHashSet(StringComparer.Ordinal);
        var blanks = BlankSizer.Size(job).Where(blank => !open.Contains(blank.Part.Id)).ToList();
        var owners = blanks.ConvertAll(_ => (Group: -1, Option: 0));
        var stocks = job.Stocks.ToList();
        for (var group = 0; group < groups.Count; group++)
        {
            for (var option = 0; option < groups[group].Options.Length; option++)
            {
                var one = GangOptions.With(job, [(groups[group].Part, groups[group].Mate, groups[group].Options[option])]);
                foreach (var part in groups[group].Options[option])
                {
                    blanks.Add(Apart(BlankSizer.Size(one, part), one, $" #{group}.{option}", stocks));
                    owners.Add((group, option));
                }
            }
        }

        var all = Scenario.AllAtLowest(job with { Stocks = [.. stocks] });
        var (rest, restBlanks) = RestOfJob.Of(all, [.. blanks]);
        var twins = StockTwins.Of(rest, restBlanks);
        _rest = (twins.Own(Bound.Of(RestOfJob.Cost(job) - RestOfJob.MostSaved(job), Methods.AnyNumberPerBlank)).Value ?? Money.Zero).Units;
        foreach (var component in Components.Of(twins.Merged, twins.MergedBlanks))
        {
            if (SizeBound.Values(component) is not { } values)
            {
                return;
            }

            var own = component.BlankIndices.Select(index => owners[index]).ToImmutableArray();
            _pieces.Add(new(component, values, own));
            for (var i = 0; i < values.Length; i++)
            {
                var worth = values[i] * component.Blanks[i].Demand;
                var (group, option) = own[i];
                _ = group < 0 ? _rest += worth : _options[group][option] += worth;
            }
        }

        _known = true;
    }

    /// <summary>No plan of any choice costs less.</summary>
    public Bound Least => Told(_pieces.Aggregate(_options.Aggregate(_rest, (sum, options) => sum + options.Min()), (sum, piece) => sum + piece.Least));

    /// <summary>No plan of this choice costs less.</summary>
    /// <param name="choice">The option of each group.</param>
    public Bound Of(IReadOnlyList<int> choice) => Told(_pieces.Aggregate(
        choice.Select((option, group) => _options[group][option]).Aggregate(_rest, (sum, worth) => sum + worth), (sum, piece) => sum + piece.Of(choice)));

    /// <summary>The options of a group, the one whose blanks cost least at least first.</summary>
    public ImmutableArray<int> ByWorth(int group) => [.. Enumerable.Range(0, _options[group].Length).OrderBy(option => _options[group][option])];

    private Bound Told(Int128 units) => _known ? Bound.Of(Money.FromUnits((long)Int128.Min(units, long.MaxValue >> 2)), Methods.AnyNumberPerBlank) : Bound.None;

    /// <summary>The blank under a name of its own: options have blanks of one name and different sizes, and what a supplier cuts to size is named by them.</summary>
    private static Blank Apart(Blank blank, Job job, string mark, List<Stock> stocks)
    {
        var cut = job.Stocks.Where(stock => stock.CutFor == blank.Part.Id && blank.Fits.Any(fit => fit.StockId == stock.Id)).ToList();
        stocks.AddRange(cut.Select(stock => stock with { Id = stock.Id + mark }));
        var names = cut.Select(stock => stock.Id).ToHashSet(StringComparer.Ordinal);
        return blank with
        {
            Part = blank.Part with { Id = blank.Part.Id + mark },
            Demand = blank.Part.Gang?.Blanks ?? blank.Demand,
            Fits = [.. blank.Fits.Select(fit => names.Contains(fit.StockId) ? fit with { StockId = fit.StockId + mark } : fit)],
        };
    }
}
