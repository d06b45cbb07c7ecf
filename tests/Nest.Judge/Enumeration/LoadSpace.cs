namespace Nest.Judge.Enumeration;

/// <summary>All loads up to a demand: how many pieces of each kind. A load is a number in mixed radix.</summary>
internal sealed class LoadSpace
{
    private readonly int[] _weight;
    private readonly int[][] _counts;

    public LoadSpace(IReadOnlyList<int> demand)
    {
        Demand = [.. demand];
        _weight = new int[Demand.Length];
        var count = 1;
        for (var kind = 0; kind < Demand.Length; kind++)
        {
            _weight[kind] = count;
            count *= Demand[kind] + 1;
        }

        Count = count;
        _counts = [.. Enumerable.Range(0, count).Select(load => Demand.Select((most, kind) => load / _weight[kind] % (most + 1)).ToArray())];
        Totals = [.. _counts.Select(counts => counts.Sum())];
        Splits = [.. Enumerable.Range(0, count).Select(load => Enumerable.Range(0, count)
            .Where(part => Within(part, load)).Select(part => (part, load - part)).ToArray())];
    }

    public int[] Demand { get; }

    /// <summary>Number of loads, the empty one (number 0) included.</summary>
    public int Count { get; }

    /// <summary>The load of the whole demand.</summary>
    public int Full => Count - 1;

    /// <summary>Pieces of each load.</summary>
    public int[] Totals { get; }

    /// <summary>Of each load, all ways to part it in two, in both orders.</summary>
    public (int One, int Other)[][] Splits { get; }

    /// <summary>Pieces of a kind in a load.</summary>
    public int Of(int load, int kind) => _counts[load][kind];

    /// <summary>The load of one piece.</summary>
    public int One(int kind) => _weight[kind];

    /// <summary>The load with these counts; null when a count is above the demand.</summary>
    public int? Number(IReadOnlyList<int> counts)
    {
        var number = 0;
        for (var kind = 0; kind < Demand.Length; kind++)
        {
            if (counts[kind] < 0 || counts[kind] > Demand[kind])
            {
                return null;
            }

            number += counts[kind] * _weight[kind];
        }

        return number;
    }

    private bool Within(int part, int load)
    {
        for (var kind = 0; kind < Demand.Length; kind++)
        {
            if (_counts[part][kind] > _counts[load][kind])
            {
                return false;
            }
        }

        return true;
    }
}
