using System.Collections.Immutable;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>Every layout of a small component, so that the choosing model over them is exact.</summary>
/// <remarks>Count vectors up to the demand, by depth-first search that leaves out what is larger than the stock by length or area. A
/// bar's layout is built straight from its counts, and its cost depends on them alone. A plate's is asked of the plate kernel (one
/// plate of that kind): the layout's cost is a good one, its lower cost depends on the counts alone, and what the kernel neither
/// finds nor proves impossible makes the answer incomplete. Gives up, with nothing, beyond <see cref="Most"/> vectors or
/// <see cref="MostPlates"/> questions to the plate kernel: the columns of the searches serve then. O(vectors · kernel).</remarks>
internal sealed class AllColumns
{
    private const int Most = 4000;
    private const int MostPlates = 120;
    private const long PlateWork = 20_000;

    /// <summary>Seconds after which a plate is given up though its work is not done: far away, or the clock would decide which layouts there are.</summary>
    private const double Guard = 3600;

    private readonly Component _component;
    private readonly CancellationToken _cancel;
    private readonly ImmutableArray<Column>.Builder _columns = ImmutableArray.CreateBuilder<Column>();
    private readonly int[] _counts;
    private int _vectors;
    private bool _complete = true;

    private AllColumns(Component component, CancellationToken cancel)
    {
        _component = component;
        _cancel = cancel;
        _counts = new int[component.Items];
    }

    /// <summary>The layouts, and whether there is no other; nothing when there are too many.</summary>
    public static (ImmutableArray<Column> Columns, bool Complete) Of(Component component, CancellationToken cancel)
    {
        if (Questions(component) > MostPlates)
        {
            return ([], false);
        }

        var all = new AllColumns(component, cancel);
        foreach (var group in component.Groups)
        {
            foreach (var s in group.Stocks)
            {
                if (component.Stocks[s].Stock.Available != 0 && !all.Visit(group, s, 0))
                {
                    return ([], false);
                }
            }
        }

        return (all._columns.ToImmutable(), all._complete && !cancel.IsCancellationRequested);
    }

    /// <summary>How many layouts the plate kernel would be asked for at most.</summary>
    private static double Questions(Component component)
    {
        double sum = 0;
        foreach (var s in component.Groups.Where(group => !group.IsBar).SelectMany(group => group.Stocks))
        {
            var room = component.Stocks[s].Usable.Area;
            double vectors = 1;
            for (var i = 0; i < component.Items; i++)
            {
                if (component.Fits[s, i] is { } fit)
                {
                    vectors *= 1 + Math.Min(component.Blanks[i].Demand, (double)room.ShareOf(fit.SizeX * fit.SizeY));
                }
            }

            sum += vectors - 1;
        }

        return sum;
    }

    /// <summary>All counts of the items from this one on; false when there are too many.</summary>
    private bool Visit(StockGroup group, int s, int item)
    {
        if (item == _counts.Length)
        {
            return Try(group, s);
        }

        var most = _component.Fits[s, item] is null ? 0 : _component.Blanks[item].Demand;
        var go = true;
        for (var n = 0; go && n <= most; n++)
        {
            _counts[item] = n;
            if (n > 0 && TooLarge(s))
            {
                break;
            }

            go = Visit(group, s, item + 1);
        }

        _counts[item] = 0;
        return go;
    }

    private bool Try(StockGroup group, int s)
    {
        if (_counts.All(n => n == 0))
        {
            return true;
        }

        if (++_vectors > Most || _cancel.IsCancellationRequested)
        {
            return false;
        }

        if (group.IsBar)
        {
            Bar(s);
            return true;
        }

        var one = new int?[_component.Stocks.Length];
        Array.Fill(one, 0);
        one[s] = 1;
        var answer = GroupSolver.Solve(_component, group, _counts, one, new() { Seconds = Guard, Work = PlateWork }, null, _cancel);
        if (answer.Columns is [{ Count: 1 } single] && single.Column.Counts.AsSpan().SequenceEqual(_counts))
        {
            _columns.Add(single.Column);
        }
        else if (answer.Status != SolveStatus.Impossible)
        {
            _complete = false;
        }

        return true;
    }

    private void Bar(int s)
    {
        if (_component.Stocks[s].Saw.MostPieces is { } most && _counts.Sum() > most)
        {
            return;
        }

        var column = LayoutBuilder.Bar(_component, s, _counts);
        if (Surplus.HoldsBar(_component, column))
        {
            _columns.Add(column);
        }
    }

    /// <summary>By length with kerfs on bars (exact), by area with kerfs on plates.</summary>
    private bool TooLarge(int s)
    {
        var frame = _component.Stocks[s];
        var gap = frame.Saw.Kerf;
        var room = (Int128)(frame.Usable.SizeX + gap).Nanometres * (frame.IsBar ? 1 : (frame.Usable.SizeY + gap).Nanometres);
        Int128 size = 0;
        for (var i = 0; i < _counts.Length; i++)
        {
            if (_counts[i] > 0)
            {
                var fit = _component.Fits[s, i]!;
                size += _counts[i] * (Int128)(fit.SizeX + gap).Nanometres * (frame.IsBar ? 1 : (fit.SizeY + gap).Nanometres);
            }
        }

        return size > room;
    }
}
