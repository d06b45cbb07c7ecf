using System.Collections.Immutable;
using Nest.Core.Plans;

namespace Nest.Solve.Bars;

/// <summary>One run of the solver: the best plan and the best bound in hand, and the order of the methods.</summary>
internal sealed class BarRun
{
    private readonly Action<BarSolution>? improved;
    private readonly BarPricing pricing;
    private readonly Random random;
    private double secondsToBest = double.NaN;
    private double secondsToProof = double.NaN;
    private bool impossible;

    public BarRun(BarModel model, WorkMeter meter, Action<BarSolution>? improved)
    {
        Model = model;
        Meter = meter;
        this.improved = improved;
        pricing = new BarPricing(model);
        random = new Random(meter.Limits.Seed);
    }

    public BarModel Model { get; }

    public WorkMeter Meter { get; }

    public BarPlan? Best { get; private set; }

    public long Bound { get; private set; }

    /// <summary>Name of the method that found the bound.</summary>
    public string BoundSource { get; private set; } = Methods.BarSize;

    public bool Done => impossible || (Best is not null && Best.Cost - Bound < Model.Problem.Enough);

    /// <summary>Cost that a better plan must not exceed.</summary>
    public long Target => Best is null ? long.MaxValue / 4 : Best.Cost - Model.Step;

    public BarSolution Solve()
    {
        if (Model.Types == 0)
        {
            Best = new BarPlan([]);
            return Answer();
        }

        for (int i = 0; i < Model.Types; i++)
        {
            if (!Enumerable.Range(0, Model.Stocks).Any(s => Model.MostCopies[s][i] > 0))
            {
                impossible = true;
                return Answer();
            }
        }

        Raise(QuickBound.Of(Model), Methods.BarSize);
        var greedy = new BarGreedy(Model, pricing, Meter);
        Offer(greedy.Longest());
        if (Done)
        {
            return Answer();
        }

        // Some rounds of knapsack fills where a fill is cheap.
        int rounds = (int)Math.Clamp(400_000_000L / Math.Max(1, Model.Capacity.Max() * Model.Types * (Best?.Bars.Length ?? 100) / 4), 0, 20);
        greedy.ValueCorrection(rounds, Meter.Limits.Seed, Offer);
        if (Done || Meter.Stop)
        {
            return Answer();
        }

        if (Best is null)
        {
            if (new BarFeasibility(Model, Meter).ProvesImpossible(out BarPlan? any))
            {
                impossible = true;
                return Answer();
            }

            Offer(any);
        }

        var tree = new BarTree(this, pricing, random);
        tree.Run();
        if (Best is not null && !Meter.Stop && !impossible)
        {
            Replace(new BarPolish(Model, pricing, Meter).Polish(Best, tree.Met));
        }

        return Answer();
    }

    /// <summary>Takes a plan of the same cost that is nicer.</summary>
    private void Replace(BarPlan plan)
    {
        if (Best is not null && plan.Cost == Best.Cost && plan != Best)
        {
            Best = plan;
            improved?.Invoke(Answer());
        }
    }

    /// <summary>Takes a plan when it is better.</summary>
    public void Offer(BarPlan? plan)
    {
        if (plan is null || (Best is not null && plan.Cost >= Best.Cost))
        {
            return;
        }

        Best = plan;
        secondsToBest = Meter.Seconds;
        Note();
        improved?.Invoke(Answer());
        if (!Model.PlainCost && !Done && !Meter.Stop)
        {
            // Where leftovers are worth something, fuller bars are cheaper.
            BarPlan gathered = new BarPolish(Model, pricing, Meter).Gather(plan);
            if (gathered.Cost < plan.Cost)
            {
                Best = gathered;
                secondsToBest = Meter.Seconds;
                Note();
                improved?.Invoke(Answer());
            }
        }
    }

    /// <summary>Takes a bound when it is better.</summary>
    public void Raise(long bound, string source)
    {
        long rounded = Model.RoundUp(bound);
        if (rounded > Bound)
        {
            Bound = rounded;
            BoundSource = source;
            Note();
        }
    }

    private void Note()
    {
        if (Done && double.IsNaN(secondsToProof))
        {
            secondsToProof = Meter.Seconds;
        }
    }

    private BarSolution Answer()
    {
        if (impossible || Best is null)
        {
            return new BarSolution
            {
                Status = impossible ? SolveStatus.Impossible : SolveStatus.NotFound,
                Layouts = [],
                Cost = 0,
                Bound = Bound,
                BoundSource = BoundSource,
                SecondsToProof = secondsToProof,
            };
        }

        ImmutableArray<BarLayout> layouts = Best.Layouts(Model);
        long? cost = BarCheck.Cost(Model.Problem, layouts, out string fault);
        if (cost != Best.Cost)
        {
            throw new InvalidOperationException($"The bar solver made a plan that is not one: {fault}");
        }

        return new BarSolution
        {
            Status = !Contradictions.Found(Bound, Best.Cost, BoundSource) && Done ? SolveStatus.Proven : SolveStatus.BestFound,
            Layouts = layouts,
            Cost = Best.Cost,
            Bound = Bound,
            BoundSource = BoundSource,
            SecondsToBest = secondsToBest,
            SecondsToProof = secondsToProof,
        };
    }
}
