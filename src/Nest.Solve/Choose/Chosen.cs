using System.Collections.Immutable;

namespace Nest.Solve.Choose;

/// <summary>A plan for one component: columns with how often each is cut, no piece more than asked; what could not be placed.</summary>
/// <param name="Missing">Pieces of each blank that are not placed (limited stock).</param>
internal sealed record Chosen(ImmutableArray<(Column Column, int Count)> Columns, ImmutableArray<int> Missing)
{
    public long Cost { get; } = Columns.Sum(entry => entry.Column.Cost * entry.Count);

    /// <summary>What settings of fence and stop cost for its layouts, each once; nothing is carried over from one to another.</summary>
    public long SetUps(Component component) => Columns.Sum(entry => entry.Column.SetUp(component));

    public int MissingCount { get; } = Missing.Sum();

    public int StockPieces { get; } = Columns.Sum(entry => entry.Count);

    /// <summary>Largest kept offcut's value: the measure of "gathered into the largest usable piece".</summary>
    public long LargestOffcut { get; } = Columns.SelectMany(entry => entry.Column.Layout.Offcuts)
        .Select(offcut => offcut.Value.Units).DefaultIfEmpty(0).Max();

    /// <summary>Fewer missing, then cheaper, then fewer stock pieces, a larger largest offcut, fewer different layouts.</summary>
    public bool IsBetterThan(Chosen? other)
    {
        if (other is null)
        {
            return true;
        }

        var order = MissingCount.CompareTo(other.MissingCount);
        order = order != 0 ? order : Cost.CompareTo(other.Cost);
        order = order != 0 ? order : StockPieces.CompareTo(other.StockPieces);
        order = order != 0 ? order : other.LargestOffcut.CompareTo(LargestOffcut);
        order = order != 0 ? order : Columns.Length.CompareTo(other.Columns.Length);
        return order < 0;
    }
}
