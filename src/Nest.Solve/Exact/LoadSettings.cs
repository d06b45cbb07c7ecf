using System.Collections.Immutable;
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

    /// <summary>Part of a setting that is given away to floating point.</summary>
    private const double Slack = 1e-7;

    private readonly Dictionary<string, int> _positions = new(StringComparer.Ordinal);
    private readonly Dictionary<string, long> _cuts = new(StringComparer.Ordinal);
    private readonly Dictionary<string, Settled> _settled = new(StringComparer.Ordinal);
    private readonly Dictionary<string, StopPosition[]> _starts = new(StringComparer.Ordinal);
    private readonly LoadLayouts _layouts = new(job, withTree);

    /// <summary>What is known of a load beyond its positions.</summary>
    /// <param name="Cost">What it costs at least with its settings, in grains.</param>
    /// <param name="Bare">Whether the load was bare then.</param>
    /// <param name="Ends">Positions at which it may leave the stop at no cost of its own, of those that other layouts begin with.</param>
    private sealed record Settled(double Cost, bool Bare, StopPosition[] Ends);

    /// <summary>Adds what the loads cost in settings to the objective.</summary>
    /// <param name="use">How often each load is cut.</param>
    public void Add(Solver solver, IReadOnlyList<Load> loads, Variable[] use)
    {
        foreach (var group in Enumerable.Range(0, use.Length).Where(p => use[p].Ub() >= 1 && Counts(job.Sources[loads[p].Stock])).GroupBy(p => job.Sources[loads[p].Stock].Frame.Saw.Id, StringComparer.Ordinal))
        {
            var settings = solver.MakeNumVar(0, double.PositiveInfinity, "");
            solver.Objective().SetCoefficient(settings, SettingTerms.PriceOf(job.Sources[loads[group.First()].Stock].Frame.Saw));
            var begins = solver.MakeNumVar(0, 1, "");
            var (apart, together, carried) = (AtLeast(settings), AtLeast(settings), AtLeast(settings));
            apart.SetCoefficient(begins, -1);
            var set = new Dictionary<StopPosition, Variable>();
            if (!job.Sources[loads[group.First()].Stock].Frame.IsBar)
            {
                together.SetLb(Together(group.Select(p => loads[p]), group.Key));
            }

            var used = group.ToDictionary(p => p, p => Rows.Used(solver, use[p]));
            foreach (var p in group)
            {
                var source = job.Sources[loads[p].Stock];
                var marks = source.Frame.IsBar ? SettingTerms.OwnOf(source) : 0;
                Rows.AtLeast(solver, begins, used[p]);
                apart.SetCoefficient(used[p], -(marks + SettingsOf(loads[p]) - 1));
                together.SetCoefficient(used[p], -marks);
                carried.SetCoefficient(used[p], -(marks + SettingsOf(loads[p]) - (StartsOf(source).IsEmpty ? 1 : 0)));
                foreach (var position in source.Frame.IsBar ? BarPositions(loads[p]) : [])
                {
                    if (!set.TryGetValue(position, out var one))
                    {
                        one = set[position] = solver.MakeNumVar(0, 1, "");
                        together.SetCoefficient(one, -1);
                    }

                    Rows.AtLeast(solver, one, used[p]);
                }
            }

            // A layout of a plate that is trimmed first saves a setting where another leaves the stop at that trim.
            foreach (var alike in group.GroupBy(p => string.Join(' ', StartsOf(job.Sources[loads[p].Stock]))).Where(alike => alike.Key.Length > 0))
            {
                var saved = solver.MakeNumVar(0, double.PositiveInfinity, "");
                carried.SetCoefficient(saved, 1);
                var (into, from) = (AtLeast(saved, -1), AtLeast(saved, -1));
                foreach (var p in alike)
                {
                    into.SetCoefficient(used[p], 1);
                }

                var starts = StartsOf(job.Sources[loads[alike.First()].Stock]);
                foreach (var p in group.Where(p => starts.Any(start => MayEnd(loads[p], start))))
                {
                    from.SetCoefficient(used[p], 1);
                }
            }
        }

        Constraint AtLeast(Variable variable, double factor = 1)
        {
            var row = solver.MakeConstraint(0, double.PositiveInfinity);
            row.SetCoefficient(variable, factor);
            return row;
        }
    }

    /// <summary>The positions of the stop of which one is the first in any layout of a plate, where it is trimmed first; empty: they are not known.</summary>
    private static ImmutableArray<StopPosition> StartsOf(LoadSource source)
    {
        var (frame, trims) = (source.Frame, source.Frame.Trims);
        var bottom = new StopPosition(CutDirection.Rip, frame.Sheet.SizeY - trims.Bottom, Angle.Square);
        return frame.IsBar ? []
            : trims.Left > Length.Zero ? [new(CutDirection.Crosscut, frame.Sheet.SizeX - trims.Left, Angle.Square)]
            : trims.Bottom == Length.Zero ? []
            : trims.Right == Length.Zero ? [bottom]
            : [bottom, new(CutDirection.Crosscut, frame.Usable.SizeX, Angle.Square)];
    }

    /// <summary>Whether a layout of a load may leave the stop at a position, at no cost of its own.</summary>
    /// <remarks>No position is as long as the metal; only a trim is as long as the metal without it, and that comes first: it is left so only where nothing else is set.</remarks>
    private bool MayEnd(Load load, StopPosition end)
    {
        var source = job.Sources[load.Stock];
        var (frame, trims) = (source.Frame, source.Frame.Trims);
        var metal = end.Direction == CutDirection.Crosscut ? frame.Sheet.SizeX - trims.Left : frame.Sheet.SizeY - trims.Bottom;
        return frame.IsBar ? end.Direction == CutDirection.Crosscut && end.Measure < frame.Sheet.SizeX
            : end.Measure < metal ? !_settled.TryGetValue(load.Key, out var known) || known.Ends.Contains(end)
            : end.Measure == metal && PositionsOf(load) < 2;
    }

    /// <summary>Different positions of the stop in any layout of a load that a cheapest plan may have; 0 where nothing is counted.</summary>
    public int PositionsOf(Load load)
    {
        if (!_positions.TryGetValue(KeyOf(load), out var positions))
        {
            var source = job.Sources[load.Stock];
            positions = _positions[KeyOf(load)] = !Counts(source) ? 0 : source.Frame.IsBar ? BarPositions(load).Count : PlatePositions(source, load);
        }

        return positions;
    }

    /// <summary>So many settings a layout of a load costs more than the load at least: its positions, or what it costs less where it has more (<see cref="SettledLoad"/>), as far as that was asked for.</summary>
    public double SettingsOf(Load load) => !_settled.TryGetValue(load.Key, out var known) || double.IsInfinity(known.Cost) ? PositionsOf(load)
        : Math.Max(PositionsOf(load), ((known.Cost - load.Cost) / SettingOf(load)) - Slack);

    private double SettingOf(Load load) => SettingTerms.PriceOf(job.Sources[load.Stock].Frame.Saw) * Grain.PerCurrency;

    /// <summary>Works out what a load of a plate costs at least with its settings.</summary>
    /// <returns>Whether that is more than was counted, or less may be carried over from it.</returns>
    public bool Sharpen(Load load, ExactMeter meter)
    {
        if (job.Sources[load.Stock] is not PlateLoads source || !Counts(source) || meter.IsOver || (_settled.TryGetValue(load.Key, out var known) && (load.IsBare || !known.Bare)))
        {
            return false;
        }

        var (before, setting, ends) = (SettingsOf(load), SettingOf(load), StartsOn(source.Frame.Saw.Id));
        _layouts.LookFor(load, meter);
        var least = _layouts.Known(load);
        if (setting >= Grain.Most || double.IsInfinity(least)
            || source.Settled(load, (int)setting, least, _layouts.CostOf, ends, meter) is not var (cost, ending, layout))
        {
            _settled[load.Key] = new(double.NegativeInfinity, load.IsBare, ends);
            return false;
        }

        if (layout is not null)
        {
            _layouts.Add(layout);
        }

        StopPosition[] some = [.. ends.Where((_, end) => ending[end] < cost + (setting * (1 - Slack)))];
        _settled[load.Key] = new(cost, load.IsBare, some);
        return SettingsOf(load) > before + Slack || some.Length < ends.Length;
    }

    /// <summary>The known layout of a load that is cheapest with its settings, cut so often.</summary>
    public Load Cheapest(Load load, int count) => _layouts.Cheapest(load, count);

    /// <summary>Where layouts of plates on a saw begin.</summary>
    private StopPosition[] StartsOn(string saw)
    {
        if (!_starts.TryGetValue(saw, out var starts))
        {
            starts = _starts[saw] = [.. job.Sources.Where(source => Counts(source) && source.Frame.Saw.Id == saw).SelectMany(source => StartsOf(source)).Distinct()];
        }

        return starts;
    }

    private static bool Counts(LoadSource source) => !source.IsSingle && !source.Frame.IsFree && SettingTerms.PriceOf(source.Frame.Saw) > 0;

    /// <summary>A layout tells more than none.</summary>
    private string KeyOf(Load load) => !load.IsBare ? load.Key : load.Key + (double.IsInfinity(_layouts.Known(load)) ? "?" : "!");

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
        return trimmed + StopPositions.LeastOf(fits, [Extent(source, true)], [Extent(source, false)], frame.Saw.Kerf.Nanometres, MostCuts(source, load));
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
        return StopPositions.LeastOf(
            fits, [.. plates.Select(source => Extent(source, true)).Distinct()], [.. plates.Select(source => Extent(source, false)).Distinct()],
            plates[0].Frame.Saw.Kerf.Nanometres, most);
    }

    /// <summary>What a plate measures behind its first trim, in nanometres. Where the far edge is cut off too, that is a position of the stop like others.</summary>
    public static long Extent(LoadSource source, bool x)
    {
        var (frame, trims) = (source.Frame, source.Frame.Trims);
        return (x ? frame.Sheet.SizeX - trims.Left : frame.Sheet.SizeY - trims.Bottom).Nanometres;
    }

    /// <summary>Most cuts of a layout of this load in a cheapest plan.</summary>
    private long MostCuts(LoadSource source, Load load)
    {
        if (!_cuts.TryGetValue(KeyOf(load), out var most))
        {
            most = _cuts[KeyOf(load)] = KindsOf(load).Count() is var kinds && kinds == 0 ? 0
                : kinds <= MostKinds && source is PlateLoads plates && (load.Real || load.IsBare) && !double.IsInfinity(_layouts.Known(load)) ? MostCuts(plates, load)
                : long.MaxValue;
        }

        return most;
    }

    private long MostCuts(PlateLoads source, Load whole)
    {
        var setting = SettingTerms.PriceOf(source.Frame.Saw) * Grain.PerCurrency;

        // What it has fewer than the known one it may cost more, and two may be carried over.
        return source.MostCuts(_layouts.Known(whole) + ((2 - SettingTerms.PositionsOf(source)) * setting), whole.Counts.AsSpan());
    }
}
