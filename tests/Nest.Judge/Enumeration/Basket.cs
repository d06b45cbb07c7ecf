using Nest.Core.Jobs;

namespace Nest.Judge.Enumeration;

/// <summary>What one supplier is paid for pieces that are cut, with those bought whole for the rack beside them.</summary>
/// <remarks>How many pieces bought whole can pay: each costs at least its lowest price less its value, and saves at most the smallest order, the
/// delivery and what breaks can give; the number is tried up to that, and one more. O(∏ numbers).</remarks>
internal sealed class Basket
{
    private const long Never = ThroughCutTable.Never;
    private const int MostWhole = 60;
    private const int MostChoices = 20_000;

    private readonly Job _job;
    private readonly Supplier? _supplier;
    private readonly Buying.Source[] _sources;
    private readonly int[] _most;

    /// <param name="supplier">Null: it has no terms.</param>
    /// <param name="sources">All that the job may buy there.</param>
    /// <param name="pieces">Most pieces of one source that are ever cut.</param>
    public Basket(Job job, Supplier? supplier, Buying.Source[] sources, int pieces)
    {
        (_job, _supplier, _sources) = (job, supplier, sources);
        var taken = sources.Sum(source => source.Taken);
        var saving = (supplier?.MinimumOrder.Units ?? 0) + (supplier?.Delivery.Units ?? 0)
            + sources.Sum(source => source.Stock.Terms.LineMinimum.Units + ((source.Stock.PiecePrice.Units - Lowest(source.Stock)) * (pieces + taken)));
        _most = [.. sources.Select(source => MostKept(source, saving))];
        if (_most.Aggregate(1L, (choices, whole) => choices * (whole + 1)) > MostChoices)
        {
            throw new TooLargeException($"Too many pieces may be bought whole from {supplier?.Name}.");
        }
    }

    /// <summary>The least that is paid for what is cut, less what is bought whole and kept; <see cref="ThroughCutTable.Never"/>: nothing is bought, or there are not so many.</summary>
    public long Paid(int[] cut) => Paid(cut, 0, 0, 0, 0, 0);

    private long Paid(int[] cut, int at, long goods, long kept, int pieces, int lines)
    {
        if (at == _sources.Length)
        {
            return pieces == 0 ? Never
                : CostRules.Order(_supplier, goods) - kept + CostRules.Supplier(_job) + (CostRules.OrderLine(_job) * lines);
        }

        var stock = _sources[at].Stock;
        var least = Never;
        for (var whole = 0; whole <= _most[at] && cut[at] + whole <= (stock.Available ?? int.MaxValue); whole++)
        {
            var count = cut[at] + whole + _sources[at].Taken;
            least = Math.Min(least, Paid(
                cut, at + 1, goods + CostRules.Line(stock, count), kept + ((_sources[at].Whole ?? 0) * whole), pieces + count,
                lines + (count > 0 ? 1 : 0)));
        }

        return least;
    }

    private static int MostKept(Buying.Source source, long saving)
    {
        if (source.Whole is not { } value)
        {
            return 0;
        }

        var loss = Lowest(source.Stock) - value;
        var most = loss <= 0 ? long.MaxValue : (saving / loss) + 1;
        return saving == 0 ? 0 : most <= MostWhole ? (int)most
            : throw new TooLargeException($"{source.Stock.Id} may be bought whole more than {MostWhole} times.");
    }

    private static long Lowest(Stock stock) =>
        stock.Terms.Breaks.Select(step => step.PiecePrice.Units).Append(stock.PiecePrice.Units).Min();
}
