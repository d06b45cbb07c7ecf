namespace Nest.Solve.Exact;

/// <summary>Loads of a plate one by one, without a table of it: what each costs at least, ever closer, and layouts.</summary>
/// <remarks>A layout that costs no more than a bound and a step is looked for; where there is none the bound rises by the step (iterative deepening, Korf 1985). What is known of rectangles serves all loads. <see cref="CutSearch"/> says what that takes.</remarks>
internal sealed class BareLoads
{
    /// <summary>By so much of a cut more a layout is looked for first, and by so many times that each time after.</summary>
    private const double FirstStep = 0.1;
    private const double StepGrowth = 1.3;

    /// <summary>Ways to cut that are looked at first, twice as many each time after.</summary>
    private const long FirstTries = 300_000;
    private const long MostTries = 100_000_000;

    /// <summary>No layout is worth so little (<see cref="PlateShape.MoneyLimit"/>).</summary>
    private const int LeastWorth = -500_000_000;

    private readonly Func<Load, Load> _obeying;
    private readonly PlateShape _shape;
    private readonly int[] _steps;
    private readonly StopLayout _layouts;
    private readonly Dictionary<string, (double Step, long Tries)> _raises = new(StringComparer.Ordinal);

    /// <summary>Grains that count as one: amounts in a currency of small units are too large for 32 bits.</summary>
    private readonly long _times = 1;

    /// <param name="obeying">A load with a tree as one that obeys every rule, where it does.</param>
    /// <param name="parts">What is known in coarser units of the parts of the load that has all these pieces; then only that one is looked at, and it counts as impossible where it is worth less than <see
    /// cref="CoarseParts.Least"/>.</param>
    public BareLoads(PlateShape shape, Func<Load, Load> obeying, CoarseParts? parts = null)
    {
        while (shape.Coarser(_times).Money > PlateShape.MoneyLimit)
        {
            _times *= 2;
        }

        (_shape, _obeying) = (shape.Coarser(_times), obeying);
        (_steps, _layouts, Least) = (LoadShares.StepsOf(_shape), new(_shape, null, parts), parts?.Least ?? LeastWorth);
    }

    /// <summary>Layouts that are worth no more beside their pieces are not told from none.</summary>
    public int Least { get; }

    /// <summary>What these pieces cost at least beside the stock's price, at a glance, in grains; null: there is nothing to say. <see cref="long.MaxValue"/>: they can't be cut.</summary>
    public long? LeastOf(ReadOnlySpan<int> counts, ExactMeter meter) =>
        _layouts.Any(LoadShares.IndexOf(_steps, counts), Grain.Most, 0, meter) is not var (worth, _) ? null : worth <= LeastWorth ? long.MaxValue : CostOf(worth);

    /// <summary>A load at its least cost, or at a cost nearer to it, then bare as before.</summary>
    /// <param name="most">Ways to cut that it may take at once.</param>
    /// <returns>Null: it can't be cut.</returns>
    public Load? Raised(Load load, long most, ExactMeter meter)
    {
        var number = LoadShares.IndexOf(_steps, load.Counts.AsSpan());
        var worth = (int)Math.Min(PlateShape.MoneyLimit, _shape.Prices.Fixed - Math.Floor(load.Cost / (double)_times));
        var (step, tries) = _raises.GetValueOrDefault(load.Key, (FirstStep * (_shape.Prices.PerCut + (_shape.Prices.PerUnit * Math.Min(_shape.SizeX, _shape.SizeY))), FirstTries));
        if (tries > most)
        {
            return load;
        }

        var (left, raised) = (tries, load);
        while (left > 0 && !meter.IsOver)
        {
            if (worth <= Least)
            {
                return null;
            }

            var (need, before) = ((int)Math.Max(Least, worth - step), _layouts.Tries);
            var answer = _layouts.Any(number, need, left, meter);
            left -= _layouts.Tries - before;
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
                return _obeying(load with { Cost = Math.Max(load.Cost, CostOf(some)), Tree = tree, IsBare = false });
            }

            (worth, step) = (Math.Min(worth, some), step * StepGrowth);
            raised = load with { Cost = Math.Max(load.Cost, CostOf(worth)) };
        }

        _raises[load.Key] = (step, 2 * tries);
        return raised;
    }

    private long CostOf(int worth) => (_shape.Prices.Fixed - worth) * _times;
}
