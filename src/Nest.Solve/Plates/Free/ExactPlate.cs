using System.Globalization;
using Google.OrTools.Sat;

namespace Nest.Solve.Plates.Free;

/// <summary>Decides whether a few given pieces lie on one plate together.</summary>
/// <remarks>Method: CP-SAT with no-overlap in two dimensions and a cumulative constraint along each side (a piece is a task with its other
/// size as demand; valid, helps the propagation); keep-outs are fixed rectangles. Complexity: exponential, so for some twenty pieces.
/// Guarantee: what it returns is a valid layout; nothing within the limit is no proof.</remarks>
internal static class ExactPlate
{
    /// <param name="kinds">Kind of every piece.</param>
    /// <param name="seconds">Deterministic seconds of the solver; with a limit in seconds also of the clock.</param>
    /// <returns>All pieces placed, or null.</returns>
    public static FreePlaced[]? Pack(FreeModel model, FreeStock stock, IReadOnlyList<int> kinds, double seconds, FreeBudget budget)
    {
        // Sizes as multiples of their greatest common divisor: small domains propagate faster.
        var unit = Unit(model, stock, kinds);
        var (plateX, plateY) = (stock.SizeX / unit, stock.SizeY / unit);

        // Variables: corner and turn of every piece.
        var cp = new CpModel();
        var shapes = cp.AddNoOverlap2D();
        var (alongX, alongY) = (cp.AddCumulative(plateY), cp.AddCumulative(plateX));
        var x = new IntVar[kinds.Count];
        var y = new IntVar[kinds.Count];
        var turned = new BoolVar?[kinds.Count];
        for (var p = 0; p < kinds.Count; p++)
        {
            var (w, h) = (model.SizeX[kinds[p]] / unit, model.SizeY[kinds[p]] / unit);
            var turns = model.Turns[kinds[p]];
            var least = Math.Min(w, h);
            x[p] = cp.NewIntVar(0, plateX - (turns ? least : w), string.Empty);
            y[p] = cp.NewIntVar(0, plateY - (turns ? least : h), string.Empty);
            LinearExpr sizeX = LinearExpr.Constant(w), sizeY = LinearExpr.Constant(h);
            if (turns)
            {
                turned[p] = cp.NewBoolVar(string.Empty);
                sizeX = LinearExpr.Affine(turned[p]!, h - w, w);
                sizeY = LinearExpr.Affine(turned[p]!, w - h, h);
            }

            var endX = cp.NewIntVar(0, plateX, string.Empty);
            var endY = cp.NewIntVar(0, plateY, string.Empty);
            var (spanX, spanY) = (cp.NewIntervalVar(x[p], sizeX, endX, string.Empty), cp.NewIntervalVar(y[p], sizeY, endY, string.Empty));

            // Constraints: no overlap; along each side no more than the plate is wide.
            shapes.AddRectangle(spanX, spanY);
            alongX.AddDemand(spanX, sizeY);
            alongY.AddDemand(spanY, sizeX);

            // Equal pieces: one order of many.
            if (p > 0 && kinds[p] == kinds[p - 1])
            {
                cp.Add((x[p - 1] * (plateY + 1)) + y[p - 1] <= (x[p] * (plateY + 1)) + y[p]);
            }
        }

        foreach (var k in stock.Stock.KeepOuts)
        {
            // Grown by the gap to the right and above as the pieces are, and outward to whole units.
            var (x1, y1) = (Math.Max(0, k.X) / unit, Math.Max(0, k.Y) / unit);
            var (x2, y2) = ((Math.Min(stock.SizeX, k.X + k.SizeX + model.Problem.Kerf) + unit - 1) / unit,
                (Math.Min(stock.SizeY, k.Y + k.SizeY + model.Problem.Kerf) + unit - 1) / unit);
            if (x1 < x2 && y1 < y2)
            {
                shapes.AddRectangle(cp.NewFixedSizeIntervalVar(x1, x2 - x1, string.Empty), cp.NewFixedSizeIntervalVar(y1, y2 - y1, string.Empty));
            }
        }

        // Solve
        using var solver = new CpSolver
        {
            StringParameters = string.Create(
                CultureInfo.InvariantCulture,
                $"{CpSat.Always}num_workers:1,random_seed:1,max_deterministic_time:{seconds},max_time_in_seconds:{budget.Guard(Math.Max(0.05, 3 * seconds))}"),
        };
        using var stop = budget.Cancel.Register(solver.StopSearch);
        var status = solver.Solve(cp);
        budget.AddSeconds(Math.Max(seconds * 0.05, solver.Response!.DeterministicTime));
        return status is CpSolverStatus.Optimal or CpSolverStatus.Feasible
            ? [.. kinds.Select((kind, p) => new FreePlaced(
                kind, solver.Value(x[p]) * unit, solver.Value(y[p]) * unit, turned[p] is { } t && solver.BooleanValue(t)))]
            : null;
    }

    /// <summary>Greatest common divisor of all sizes of the pieces; positions then need no others (pieces pushed to the left and down),
    /// but keep-outs do, so they count too.</summary>
    private static long Unit(FreeModel model, FreeStock stock, IReadOnlyList<int> kinds)
    {
        long unit = 0;
        foreach (var k in kinds)
        {
            unit = WholeNumbers.Divisor(WholeNumbers.Divisor(unit, model.SizeX[k]), model.SizeY[k]);
        }

        foreach (var k in stock.Stock.KeepOuts)
        {
            unit = WholeNumbers.Divisor(WholeNumbers.Divisor(unit, k.X + k.SizeX + model.Problem.Kerf), k.Y + k.SizeY + model.Problem.Kerf);
        }

        return Math.Max(1, unit);
    }
}
