using System.Collections.Immutable;

namespace Nest.Solve.Exact;

/// <summary>The cheapest plan of listed loads for a few pieces of stock: what <see cref="LoadMaster"/> finds too, but at once where a programme searches long.</summary>
/// <remarks>
/// Depth first over the pieces of stock, each with its load, those of one kind of stock in order. What a load is worth below its stock's best adds up,
/// and beyond the gap nothing is looked at (the lemma of <see cref="LoadMaster"/>). The last piece's load is looked up by what is still wanted,
/// unless pieces cut to size may fill in. O(L^(n−1)) for n pieces and L loads, O(L^n) with pieces cut to size; cut off by the number of loads tried.
/// </remarks>
internal sealed class LoadSearch
{
    /// <summary>Loads that may be tried: about a second.</summary>
    private const long MostTries = 30_000_000;

    private readonly ExactJob _job;
    private readonly int[] _stocks;
    private readonly List<(Load Load, double Slack)>[] _choices;
    private readonly Dictionary<string, int>[] _byCounts;
    private readonly Load?[] _singles;
    private readonly int[] _left;
    private readonly int[] _chosen;
    private readonly int[][] _room;
    private int[]? _best;
    private double _cost = double.PositiveInfinity;
    private double _slackLimit;
    private long _tries;

    private LoadSearch(ExactJob job, IReadOnlyList<Load> loads, int[] counts, ValueCut cut, double gap)
    {
        _job = job;
        _slackLimit = gap + 1;
        _stocks = [.. job.Sources.Where(source => !source.IsSingle).SelectMany(source => Enumerable.Repeat(source.Number, counts[source.Number]))];
        _choices = [.. job.Sources.Select(_ => new List<(Load, double)>())];
        foreach (var load in loads.Where(load => !job.Sources[load.Stock].IsSingle))
        {
            _choices[load.Stock].Add((load, cut.Per(load.Stock) + load.Cost - Values(cut, load.Counts)));
        }

        foreach (var own in _choices)
        {
            own.Sort(static (a, b) => a.Slack.CompareTo(b.Slack));
        }

        _byCounts = [.. _choices.Select(own => own.Select((entry, at) => (Key: Key(entry.Load.Counts.AsSpan()), at))
            .GroupBy(entry => entry.Key, StringComparer.Ordinal).ToDictionary(group => group.Key, group => group.First().at, StringComparer.Ordinal))];
        _singles = [.. job.Demand.Select((_, k) => loads.Where(load => job.Sources[load.Stock].IsSingle && load.Counts[k] > 0)
            .OrderBy(load => load.Cost + job.Sources[load.Stock].Price).FirstOrDefault())];
        _left = [.. job.Demand];
        _chosen = new int[_stocks.Length];

        // What the pieces of stock from this one on can hold of a kind, at most.
        _room = new int[_stocks.Length + 1][];
        _room[^1] = new int[job.Demand.Length];
        for (var at = _stocks.Length - 1; at >= 0; at--)
        {
            _room[at] = [.. _room[at + 1].Select((n, k) => n + _choices[_stocks[at]].Select(entry => entry.Load.Counts[k]).Append(0).Max())];
        }
    }

    /// <summary>The cheapest plan of these loads with these counts within the gap; null where the search would be long, or pieces cut to size are limited.</summary>
    /// <param name="job">A job of one component without purchase terms.</param>
    /// <param name="cut">The statement that the loads were listed by.</param>
    public static LoadMaster.Answer? Solve(ExactJob job, IReadOnlyList<Load> loads, int[] counts, ValueCut cut, double gap)
    {
        if (job.Sources.Any(source => source is { IsSingle: true, Limit: not null }) || job.Sources.Sum(source => source.IsSingle ? 0 : counts[source.Number]) > 4)
        {
            return null;
        }

        var search = new LoadSearch(job, loads, counts, cut, gap);
        if (!search.Visit(0, 0, 0))
        {
            return null;
        }

        if (search._best is not { } best)
        {
            return new([], [], double.PositiveInfinity, double.PositiveInfinity, true);
        }

        var plan = best.Select((at, piece) => search._choices[search._stocks[piece]][at].Load).Concat(search.SinglesOf(best))
            .GroupBy(load => load).Select(group => (group.Key, group.Count())).ToImmutableArray();
        var price = job.Sources.Sum(source => source.IsSingle ? 0.0 : (double)source.Price * counts[source.Number]);
        return new(plan, [], search._cost + price, search._cost + price, true);
    }

    private static double Values(ValueCut cut, ImmutableArray<int> counts)
    {
        double sum = 0;
        for (var k = 0; k < counts.Length; k++)
        {
            sum += (double)cut.Values[k] * counts[k];
        }

        return sum;
    }

    private static string Key(ReadOnlySpan<int> counts) => string.Join(',', counts.ToArray());

    private IEnumerable<Load> SinglesOf(int[] best)
    {
        for (var k = 0; k < _job.Demand.Length; k++)
        {
            var missing = _job.Demand[k] - best.Select((at, piece) => _choices[_stocks[piece]][at].Load.Counts[k]).Sum();
            for (var n = 0; n < missing; n++)
            {
                yield return _singles[k]!;
            }
        }
    }

    /// <summary>False when it was cut off.</summary>
    private bool Visit(int piece, double slack, double cost)
    {
        if (piece == _stocks.Length)
        {
            Take(cost);
            return true;
        }

        for (var k = 0; k < _left.Length; k++)
        {
            if (_left[k] > _room[piece][k] && _singles[k] is null)
            {
                return true;
            }
        }

        var choices = _choices[_stocks[piece]];
        var from = piece > 0 && _stocks[piece - 1] == _stocks[piece] ? _chosen[piece - 1] : 0;
        if (piece == _stocks.Length - 1 && _left.Select((n, k) => n == 0 || _singles[k] is null).All(closed => closed))
        {
            return !_byCounts[_stocks[piece]].TryGetValue(Key(_left), out var only) || only < from || Try(piece, only, slack, cost);
        }

        for (var at = from; at < choices.Count && slack + choices[at].Slack <= _slackLimit; at++)
        {
            if (!Try(piece, at, slack, cost))
            {
                return false;
            }
        }

        return true;
    }

    private bool Try(int piece, int at, double slack, double cost)
    {
        var (load, own) = _choices[_stocks[piece]][at];
        if (++_tries > MostTries)
        {
            return false;
        }

        if (slack + own > _slackLimit || !Fits(load))
        {
            return true;
        }

        _chosen[piece] = at;
        for (var k = 0; k < _left.Length; k++)
        {
            _left[k] -= load.Counts[k];
        }

        var whole = Visit(piece + 1, slack + own, cost + load.Cost);
        for (var k = 0; k < _left.Length; k++)
        {
            _left[k] += load.Counts[k];
        }

        return whole;
    }

    private bool Fits(Load load)
    {
        for (var k = 0; k < _left.Length; k++)
        {
            if (load.Counts[k] > _left[k])
            {
                return false;
            }
        }

        return true;
    }

    /// <summary>The loads chosen, with pieces cut to size for what is missing.</summary>
    private void Take(double cost)
    {
        for (var k = 0; k < _left.Length; k++)
        {
            if (_left[k] > 0)
            {
                if (_singles[k] is not { } single)
                {
                    return;
                }

                cost += _left[k] * ((double)single.Cost + _job.Sources[single.Stock].Price);
            }
        }

        if (cost < _cost)
        {
            (_cost, _best) = (cost, [.. _chosen]);
        }
    }
}
