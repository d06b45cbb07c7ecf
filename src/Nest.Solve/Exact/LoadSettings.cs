using Google.OrTools.LinearSolver;
using Nest.Core.Blanks;
using Nest.Core.Cutting;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Exact;

/// <summary>Settings of fence and stop that no layouts of listed loads avoid, as part of a programme over the loads: sharper than by counts of stock (<see cref="SettingTerms"/>).</summary>
/// <remarks>
/// Settings less those carried over are no fewer, on each saw, than Σ (positions − 1) + 1 over the layouts, and than the positions of all layouts together; cuts at a mark come on top of both.
/// Positions of a bar's load: those of its blanks. Of a plate's: left and bottom trims, and what <see cref="StopPositions"/> says for the sizes of its blanks in each direction, the best way to turn
/// them. A cheapest plan has no layout that is dearer than the known one of its load by more than the settings that it saves and two that are carried over; this limits its cuts, each of which costs something.
/// </remarks>
/// <param name="withTree">A load with the tree that it was listed with.</param>
internal sealed class LoadSettings(ExactJob job, Func<Load, Load> withTree)
{
    /// <summary>Kinds up to which every way to turn them is looked at.</summary>
    private const int MostKinds = 6;

    private readonly Dictionary<string, int> _positions = new(StringComparer.Ordinal);
    private readonly Dictionary<string, long> _cuts = new(StringComparer.Ordinal);

    /// <summary>Adds what the loads cost in settings to the objective.</summary>
    /// <param name="use">How often each load is cut.</param>
    public void Add(Solver solver, IReadOnlyList<Load> loads, Variable[] use)
    {
        foreach (var group in Enumerable.Range(0, use.Length).Where(p => use[p].Ub() >= 1 && Counts(job.Sources[loads[p].Stock])).GroupBy(p => job.Sources[loads[p].Stock].Frame.Saw.Id, StringComparer.Ordinal))
        {
            var settings = solver.MakeNumVar(0, double.PositiveInfinity, "");
            solver.Objective().SetCoefficient(settings, SettingTerms.PriceOf(job.Sources[loads[group.First()].Stock].Frame.Saw));
            var begins = solver.MakeNumVar(0, 1, "");
            var apart = solver.MakeConstraint(0, double.PositiveInfinity);
            apart.SetCoefficient(settings, 1);
            apart.SetCoefficient(begins, -1);
            var together = solver.MakeConstraint(0, double.PositiveInfinity);
            together.SetCoefficient(settings, 1);
            var set = new Dictionary<StopPosition, Variable>();
            if (!job.Sources[loads[group.First()].Stock].Frame.IsBar)
            {
                together.SetLb(Together(group.Select(p => loads[p]), group.Key));
            }

            foreach (var p in group)
            {
                var source = job.Sources[loads[p].Stock];
                var used = Rows.Used(solver, use[p]);
                var marks = source.Frame.IsBar ? SettingTerms.OwnOf(source) : 0;
                Rows.AtLeast(solver, begins, used);
                apart.SetCoefficient(used, -(marks + PositionsOf(loads[p]) - 1));
                together.SetCoefficient(used, -marks);
                foreach (var position in source.Frame.IsBar ? BarPositions(loads[p]) : [])
                {
                    if (!set.TryGetValue(position, out var one))
                    {
                        one = set[position] = solver.MakeNumVar(0, 1, "");
                        together.SetCoefficient(one, -1);
                    }

                    Rows.AtLeast(solver, one, used);
                }
            }
        }
    }

    /// <summary>Different positions of the stop in any layout of a load that a cheapest plan may have; 0 where nothing is counted.</summary>
    public int PositionsOf(Load load)
    {
        if (!_positions.TryGetValue(load.Key, out var positions))
        {
            var source = job.Sources[load.Stock];
            positions = _positions[load.Key] = !Counts(source) ? 0 : source.Frame.IsBar ? BarPositions(load).Count : PlatePositions(source, load);
        }

        return positions;
    }

    private static bool Counts(LoadSource source) => !source.IsSingle && !source.Frame.IsFree && SettingTerms.PriceOf(source.Frame.Saw) > 0;

    private HashSet<StopPosition> BarPositions(Load load)
    {
        var source = job.Sources[load.Stock];
        return [.. KindsOf(load).SelectMany(k => SettingTerms.OnBar(job, source, k))];
    }

    private static IEnumerable<int> KindsOf(Load load) => Enumerable.Range(0, load.Counts.Length).Where(k => load.Counts[k] > 0);

    private int PlatePositions(LoadSource source, Load load)
    {
        var (frame, trims) = (source.Frame, source.Frame.Trims);
        var fits = KindsOf(load).Select(k => SettingTerms.FitOf(source, k)).ToList();
        if (fits.Count is 0 or > MostKinds)
        {
            return fits.Count == 0 ? 0 : SettingTerms.PositionsOf(source);
        }

        var trimmed = (trims.Left > Length.Zero ? 1 : 0) + (trims.Bottom > Length.Zero ? 1 : 0);
        return trimmed + Least(fits, [Extent(source, true)], [Extent(source, false)], frame.Saw.Kerf.Nanometres, MostCuts(source, load));
    }

    /// <summary>Positions for the blanks of a set in both directions, turned as it suits best.</summary>
    private static int Least(List<BlankFit> fits, IReadOnlyList<long> inX, IReadOnlyList<long> inY, long kerf, long most)
    {
        var turns = fits.Select(fit => fit.MayTurn && fit.SizeX != fit.SizeY).ToList();
        var least = int.MaxValue;
        for (var way = 0; way < 1 << fits.Count; way++)
        {
            if (Enumerable.Range(0, fits.Count).Any(f => ((way >> f) & 1) == 1 && !turns[f]))
            {
                continue;
            }

            var sizes = fits.Select((fit, f) => ((way >> f) & 1) == 1 ? (X: fit.SizeY, Y: fit.SizeX) : (X: fit.SizeX, Y: fit.SizeY)).ToList();
            least = Math.Min(
                least, StopPositions.Least(sizes.Select(size => size.X.Nanometres), inX, kerf, most) + StopPositions.Least(sizes.Select(size => size.Y.Nanometres), inY, kerf, most));
        }

        return least;
    }

    /// <summary>Positions for all blanks that come from nothing but the plates of a saw, at one size, over all layouts of the loads.</summary>
    private int Together(IEnumerable<Load> loads, string saw)
    {
        var plates = job.Sources.Where(source => Counts(source) && !source.Frame.IsBar && source.Frame.Saw.Id == saw).ToList();
        var fits = new List<BlankFit>();
        for (var c = 0; c < job.Components.Length; c++)
        {
            for (var k = 0; k < job.Kinds[c].Count; k++)
            {
                var serve = job.Sources.Where(source => source.ComponentIndex == c && SettingTerms.Serves(source, k)).ToList();
                if (serve.Count > 0 && job.Kinds[c].Demand[k] > 0 && serve.TrueForAll(plates.Contains)
                    && serve.Select(source => SettingTerms.FitOf(source, k)).DistinctBy(fit => (fit.SizeX, fit.SizeY, fit.MayTurn)).ToList() is [var fit])
                {
                    fits.Add(fit);
                }
            }
        }

        if (fits.Count is 0 or > MostKinds)
        {
            return 0;
        }

        var most = loads.Max(load => MostCuts(job.Sources[load.Stock], load));
        return Least(
            fits, [.. plates.Select(source => Extent(source, true)).Distinct()], [.. plates.Select(source => Extent(source, false)).Distinct()],
            plates[0].Frame.Saw.Kerf.Nanometres, most);
    }

    /// <summary>What a plate measures behind its first trim, in nanometres. Where the far edge is cut off too, that is a position of the stop like others.</summary>
    private static long Extent(LoadSource source, bool x)
    {
        var (frame, trims) = (source.Frame, source.Frame.Trims);
        return (x ? frame.Sheet.SizeX - trims.Left : frame.Sheet.SizeY - trims.Bottom).Nanometres;
    }

    /// <summary>Most cuts of a layout of this load in a cheapest plan.</summary>
    private long MostCuts(LoadSource source, Load load)
    {
        if (!_cuts.TryGetValue(load.Key, out var most))
        {
            most = _cuts[load.Key] = KindsOf(load).Count() is var kinds && kinds == 0 ? 0
                : kinds <= MostKinds && source is PlateLoads plates && load.Real && withTree(load) is { Real: true, Tree: not null } whole ? MostCuts(plates, whole)
                : long.MaxValue;
        }

        return most;
    }

    private long MostCuts(PlateLoads source, Load whole)
    {
        var column = ExactPlan.ColumnsOf(job, source.ComponentIndex, [(whole, 1)])[0].Column;
        var setting = SettingTerms.PriceOf(source.Frame.Saw) * Grain.PerCurrency;

        // What it has fewer than the known one it may cost more, and two may be carried over.
        var cost = ((column.Cost - source.Frame.Stock.PiecePrice.Units + column.SetUp(source.Kinds.Component)) * (double)Grain.PerUnit) + ((2 - SettingTerms.PositionsOf(source)) * setting);
        return source.MostCuts(cost, whole.Counts.AsSpan());
    }
}
