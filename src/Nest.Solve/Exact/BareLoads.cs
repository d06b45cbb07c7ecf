namespace Nest.Solve.Exact;

/// <summary>Loads of a plate one by one, without a table of it: what each costs at least, ever closer, and layouts.</summary>
/// <remarks>A layout that costs no more than a bound and a step is looked for; where there is none the bound rises by the step (iterative deepening, Korf 1985). What is known of rectangles serves all loads. <see cref="CutSearch"/> says what that takes.</remarks>
/// <param name="obeying">A load with a tree as one that obeys every rule, where it does.</param>
internal sealed class BareLoads(PlateShape shape, Func<Load, Load> obeying)
{
    /// <summary>By so many grains more a layout is looked for first, and by so many times that each time after.</summary>
    private const double FirstStep = 0.1 * Grain.PerCurrency;
    private const double StepGrowth = 1.3;

    /// <summary>Ways to cut that are looked at first, twice as many each time after.</summary>
    private const long FirstTries = 300_000;
    private const long MostTries = 100_000_000;

    /// <summary>No layout that is worth so little is of use.</summary>
    private const int LeastWorth = -500_000_000;

    private readonly int[] _steps = LoadShares.StepsOf(shape);
    private readonly StopLayout _best = new(shape, null);
    private readonly Dictionary<string, (double Step, long Tries)> _raises = new(StringComparer.Ordinal);

    /// <summary>What these pieces cost at least beside the stock's price, at a glance, in grains; null: there is nothing to say.</summary>
    public long? LeastOf(ReadOnlySpan<int> counts, ExactMeter meter) =>
        _best.Best(null, null, 0, Grain.Most, long.MaxValue, null, false, meter, LoadShares.IndexOf(_steps, counts)) is var (worth, _) ? shape.Prices.Fixed - worth : null;

    /// <summary>A load at its least cost, or at a cost nearer to it, then bare as before.</summary>
    /// <param name="most">Ways to cut that it may take at once.</param>
    /// <returns>Null: it can't be cut.</returns>
    public Load? Raised(Load load, long most, ExactMeter meter)
    {
        var number = LoadShares.IndexOf(_steps, load.Counts.AsSpan());
        var worth = (int)(shape.Prices.Fixed - load.Cost);
        var (step, tries) = _raises.GetValueOrDefault(load.Key, (FirstStep, FirstTries));
        if (tries > most)
        {
            return load;
        }

        var (left, raised) = (tries, load);
        while (left > 0 && !meter.IsOver)
        {
            var (need, before) = ((int)(worth - step), _best.Tries);
            if (need <= LeastWorth)
            {
                return null;
            }

            var answer = _best.Best(null, null, 0, need, long.MaxValue, null, true, meter, number, left);
            left -= _best.Tries - before;
            if (answer is not var (some, tree))
            {
                if (raised != load || 2 * tries > Math.Min(most, MostTries))
                {
                    break;
                }

                left = tries *= 2;
                continue;
            }

            if (tree is not null)
            {
                return obeying(load with { Cost = shape.Prices.Fixed - some, Tree = tree, IsBare = false });
            }

            (worth, step) = (Math.Min(worth, some), step * StepGrowth);
            raised = load with { Cost = shape.Prices.Fixed - worth };
        }

        _raises[load.Key] = (step, 2 * tries);
        return raised;
    }
}
