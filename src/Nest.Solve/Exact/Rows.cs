using Google.OrTools.LinearSolver;

namespace Nest.Solve.Exact;

/// <summary>Rows that several programmes of this room have.</summary>
internal static class Rows
{
    /// <summary>variable ≥ factor · other.</summary>
    public static void AtLeast(Solver solver, Variable variable, Variable other, double factor = 1)
    {
        var row = solver.MakeConstraint(0, double.PositiveInfinity);
        row.SetCoefficient(variable, 1);
        row.SetCoefficient(other, -factor);
    }

    /// <summary>1 where a count is above zero: the count itself where it is one at most.</summary>
    public static Variable Used(Solver solver, Variable count)
    {
        if (count.Ub() <= 1)
        {
            return count;
        }

        var used = solver.MakeBoolVar("");
        var row = solver.MakeConstraint(0, double.PositiveInfinity);
        row.SetCoefficient(used, count.Ub());
        row.SetCoefficient(count, -1);
        return used;
    }
}
