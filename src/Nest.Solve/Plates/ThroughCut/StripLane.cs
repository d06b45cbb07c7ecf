namespace Nest.Solve.Plates.ThroughCut;

/// <summary>What one thread of <see cref="StripSearch"/> has for its own: its plans, its search and what it has learnt.</summary>
/// <param name="mostGivenUp">Most plates that a plan gives up.</param>
internal sealed class StripLane(ThroughModel model, int mostGivenUp, int seed)
{
    private readonly double[] _weight = [.. Enumerable.Repeat(1.0, model.ItemCount)];

    /// <summary>Plans of strips so far.</summary>
    public int Turns { get; private set; }

    public StripPlan Plan { get; } = new(model, seed);

    public RuinRecreate Search { get; } = new(model, seed);

    public RandomSource Random = new(seed);

    /// <summary>By plates given up: density of filling that seems to be within reach.</summary>
    public double[] Reach { get; } = [.. Enumerable.Range(0, mostGivenUp + 1).Select(g => 0.9 + (0.012 * g))];

    public long Work => Plan.Work + Search.Work;

    /// <summary>Values for the next plan: area to a power, noise, and what was learnt.</summary>
    public double[] Values(double plate)
    {
        var power = 1 + (0.1 * Random.Real());
        var noise = Turns++ == 0 ? 0 : 0.06 * Random.Real();
        var values = new double[model.ItemCount];
        for (var i = 0; i < values.Length; i++)
        {
            values[i] = Math.Pow(model.Area[i] / plate, power) * _weight[i] * (1 + (noise * (Random.Real() - 0.5)));
        }

        return values;
    }

    /// <summary>Pieces without a place are worth more; all go slowly back to 1.</summary>
    public void Learn(ReadOnlySpan<int> missing)
    {
        for (var i = 0; i < _weight.Length; i++)
        {
            _weight[i] = 1 + ((_weight[i] - 1) * 0.9) + (i < missing.Length && missing[i] > 0 ? 0.01 : 0);
        }
    }
}
