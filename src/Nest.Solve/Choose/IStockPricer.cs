using System.Collections.Immutable;

namespace Nest.Solve.Choose;

/// <summary>Finds layouts of one stock that are worth more, at given values of the blanks, than they cost.</summary>
internal interface IStockPricer
{
    /// <param name="values">Value of each of the component's blanks in money units × <see cref="Scale"/>, at least 0.</param>
    /// <returns>Columns, best first, and an upper bound, in the same unit, on
    /// Σ (value_i − Scale·Piece_si)·a_i + Scale·leftover value over all layouts of this stock.</returns>
    (ImmutableArray<Column> Columns, long UpperBound) Price(ReadOnlySpan<long> values, int most);

    /// <summary>Factor between money units and values: duals are not whole.</summary>
    const long Scale = 256;
}
