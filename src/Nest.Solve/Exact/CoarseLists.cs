using Nest.Solve.Plates;

namespace Nest.Solve.Exact;

/// <summary>Loads of a plate that are listed in coarser units (<see cref="CoarsePlate"/>): what is known of each in the plate's own.</summary>
/// <remarks>A list gives each load a bound and the most that its parts are worth (<see cref="CoarseParts"/>), which leaves little to look at where its layout is searched in the plate's own units (<see cref="BareLoads"/>). What was found holds
/// for later lists too.</remarks>
/// <param name="coarse">The plate in coarser units.</param>
/// <param name="made">A load with a tree as one that obeys every rule, where it does.</param>
internal sealed class CoarseLists(PlateShape coarse, Func<Load, Load> made)
{
    /// <summary>Ways to share a load and its parts between two rectangles, up to which it is worked out: some thousand parts.</summary>
    private const double MostShares = 1_000_000;

    private readonly PlateShape _shape = coarse.Fine!;
    private readonly CutRules _rules = new(coarse.Fine!);
    private readonly Dictionary<string, BareLoads> _own = new(StringComparer.Ordinal);

    /// <summary>Layouts of loads of the last list in the plate's own units; null: a load has none.</summary>
    private readonly Dictionary<string, PlateNode?> _trees = new(StringComparer.Ordinal);
    private readonly Dictionary<string, Load> _known = new(StringComparer.Ordinal);
    private readonly List<Load> _layouts = [];
    private LoadLabels? _labels;
    private int[] _values = [];

    /// <summary>Takes in the list that was made last.</summary>
    public void Begin(LoadLabels labels, int[] values)
    {
        (_labels, _values) = (labels, values);
        _own.Clear();
        _trees.Clear();
    }

    /// <summary>A load of the last list, or what is known of it from an earlier one.</summary>
    public Load Listed(Load load) => _known.GetValueOrDefault(load.Key) is { } known && known.Cost > load.Cost ? known : load with { Real = false, IsBare = true, IsCoarse = true };

    /// <summary>A load with the layout that its listed one is in the plate's own units; as it was where there is none.</summary>
    public Load WithTree(Load load)
    {
        if (!_trees.TryGetValue(load.Key, out var tree))
        {
            tree = _trees[load.Key] = WithTree(load, _labels!.TreeOf(load.Counts.AsSpan())).Tree;
        }

        return tree is null ? load : load with { Tree = tree, Real = true, IsBare = false, IsCoarse = false };
    }

    /// <inheritdoc cref="WithTree(Load)"/>
    public Load WithTree(Load load, PlateNode tree) =>
        FineTree.Of(_shape, tree) is { } own && made(load with { Tree = own, IsBare = false, IsCoarse = false }) is { Real: true } layout ? layout : load;

    /// <inheritdoc cref="BareLoads.Raised"/>
    /// <param name="only">The plate with no other pieces than those of the load.</param>
    /// <returns>Null: no layout of the load is within the list's gap.</returns>
    public Load? Raised(Load load, PlateShape only, long most, ExactMeter meter)
    {
        if (LoadTable.Factor(only) > MostShares)
        {
            return load;
        }

        if (!_own.TryGetValue(load.Key, out var own))
        {
            own = _own[load.Key] = new(only, made, new(only, coarse, _labels!, load.Counts, _values));
            if (WithTree(load) is { Tree: { } tree } layout)
            {
                _layouts.Add(layout with { Cost = Math.Max(layout.Cost, FineTree.CostOf(_rules, tree)) });
            }
        }

        var raised = own.Raised(load, most, meter);
        _known[load.Key] = raised ?? load with { Cost = Math.Max(load.Cost, _shape.Prices.Fixed - own.Least) };
        return raised;
    }

    /// <summary>Layouts that came about, at what they cost; each is told once.</summary>
    public IEnumerable<Load> NewLayouts()
    {
        var layouts = _layouts.ToArray();
        _layouts.Clear();
        return layouts;
    }
}
