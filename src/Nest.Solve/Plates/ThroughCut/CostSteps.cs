namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Rounds a lower bound up to the next cost that a plan can have: a multiple of the common divisor of all costs, and where
/// only plates cost anything, a sum of plate prices.</summary>
internal sealed class CostSteps
{
    private const long MostSums = 4_000_000;

    private readonly ThroughModel _model;

    public CostSteps(ThroughModel model)
    {
        _model = model;
        foreach (var cost in model.StockCost)
        {
            Divisor = WholeNumbers.Divisor(Divisor, cost);
        }

        if (model.HasPieceCost)
        {
            foreach (var cost in model.Problem.PieceCost!)
            {
                Divisor = cost == PlateProblem.Forbidden ? Divisor : WholeNumbers.Divisor(Divisor, cost);
            }
        }

        Divisor = Math.Max(1, Divisor);
    }

    /// <summary>Every plan's cost is a multiple of this.</summary>
    public long Divisor { get; private set; }

    public long RoundUp(long bound)
    {
        var steps = (bound + Divisor - 1) / Divisor;
        if (!_model.HasPieceCost && steps > 0)
        {
            steps = NextSum(steps);
        }

        return checked(steps * Divisor);
    }

    /// <summary>Smallest sum of plate prices that is at least this many steps (limits of plates are left out, which keeps it a bound).</summary>
    private long NextSum(long steps)
    {
        var coins = _model.StockCost.Where(c => c > 0).Select(c => c / Divisor).Distinct().Order().ToArray();
        if (coins.Length == 0 || coins[0] == 1 || steps + coins[0] > MostSums)
        {
            return steps;
        }

        // One coin more always suffices, so the answer is below steps + the smallest coin.
        var reach = new bool[steps + coins[0] + 1];
        reach[0] = true;
        for (long sum = 1; sum < reach.Length; sum++)
        {
            foreach (var coin in coins)
            {
                if (coin <= sum && reach[sum - coin])
                {
                    reach[sum] = true;
                    break;
                }
            }

            if (sum >= steps && reach[sum])
            {
                return sum;
            }
        }

        return steps;
    }
}
