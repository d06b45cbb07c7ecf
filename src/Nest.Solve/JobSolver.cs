using System.Collections.Immutable;
using System.Diagnostics;
using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Solve.Choose;
using Nest.Solve.Exact;

namespace Nest.Solve;

/// <summary>How far a search is: cost of the best plan so far and its bound.</summary>
/// <param name="Bound">None while pieces are left out: it would be for another problem.</param>
/// <param name="Complete">Whether every component has a plan.</param>
/// <param name="Missing">Pieces that the plan leaves out so far.</param>
public readonly record struct SolveProgress(double Seconds, Money Cost, Bound Bound, bool Complete, int Missing = 0);

/// <summary>The one entry: the cheapest plan found for a job, and how close to the cheapest possible it is proven to be.</summary>
public static class JobSolver
{
    /// <summary>Share of the limit for the components where settings cost something; the rest is for <see cref="WholeProof"/>, which counts them.</summary>
    private const double ComponentsEnd = 0.75;

    /// <param name="blanks">Of the job's parts, in their order, with the stocks that serve them.</param>
    /// <param name="progress">Called with each better plan, from several threads.</param>
    /// <param name="cancel">Ends the search with the best plan so far; before there is one, with the first.</param>
    /// <returns>A plan without part costs; what could not be placed is named with the reason.</returns>
    public static Plan Solve(
        Job job, ImmutableArray<Blank> blanks, SolveLimits limits, Action<SolveProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var clock = Stopwatch.StartNew();
        limits = limits.OfJob();

        // When an end is asked for before there is a whole plan, the first plan is the answer.
        using var stop = new CancellationTokenSource();
        var planned = 0;
        using var asked = cancel.Register(() => EndWhen(Interlocked.CompareExchange(ref planned, 0, 0) != 0));
        var (rest, restBlanks) = RestOfJob.Of(job, blanks);
        var given = job with { Kept = [] };
        var twins = StockTwins.Of(rest, restBlanks);
        var components = Components.Of(twins.Merged, twins.MergedBlanks);

        // Search and bounds go without what settings cost; what is told has both, as the plan will.
        var settings = SettingBound.Of(rest, restBlanks);
        var stays = RestOfJob.Cost(rest);
        var countsSettings = SettingTerms.Matter(components) && given.Kept.IsEmpty && limits.Proves;

        // With settings of plates the exact method counts them from the start, and the searches beside it too; it knows nothing of what layouts that stay have on order.
        if (JobTies.Any(twins.Merged, components) || (SettingSteps.Matter(components) && job.Kept.IsEmpty && limits.Proves))
        {
            var joint = new JointSolver(twins.Merged, twins.MergedBlanks, components, limits, stop.Token);
            joint.Run((plan, bound) =>
            {
                Planned(plan.Cost is not null);
                progress?.Invoke(new(
                    clock.Elapsed.TotalSeconds, plan.Cost is { } cost ? cost + plan.SetUps + stays - Raised(plan.Parts) : Money.Zero,
                    plan.Missing == 0 ? Told(bound, joint.WithSettings) : Bound.None, plan.Cost is not null, plan.Missing));
            });
            return Assemble([.. joint.Best.Parts.Select(part => (part, Bound.None))], joint.Best.Extras, joint.Bound, joint.WithSettings);
        }

        var answers = new (Chosen? Best, Bound Bound)[components.Length];
        var gate = new Lock();
        var rules = Restrictions.Of(twins.Merged, twins.MergedBlanks);
        ComponentQueue.Run([.. components.Select(ComponentQueue.Weight)], (countsSettings ? ComponentsEnd : 1) * limits.Seconds, limits.Threads, (c, seconds) =>
        {
            var solver = new RuleSolver(
                components[c], rules, limits with { Seconds = seconds, Threads = components.Length == 1 ? limits.Threads : 1 }, (best, bound) => Report(c, best, bound), stop.Token);
            solver.Run();
            Report(c, solver.Best, solver.Bound);
        });

        return Assemble(answers, [], null, Bound.None);

        Plan Assemble((Chosen? Best, Bound Bound)[] found, ImmutableArray<(StockFrame Frame, int Count)> extras, Bound? bound, Bound withSettings)
        {
            var plan = PlanAssembler.Assemble(given, twins, components, found, limits, extras, bound, withSettings);
            var left = limits.Seconds - clock.Elapsed.TotalSeconds;
            if (!(twins.IsRaised || (bound is null && countsSettings)) || plan.Status == SolveStatus.Proven || plan.Bound.Contradicts(plan.TotalCost) || left <= 0
                || !found.All(answer => answer is { Best: { MissingCount: 0 } part } && !answer.Bound.Contradicts(Money.FromUnits(part.Cost))))
            {
                return plan;
            }

            var own = twins.AtOwnPrices();
            var parts = Components.Of(own.Merged, own.MergedBlanks);
            var proof = new WholeProof(
                own, parts, [.. found.Select(answer => twins.AtOwnPrices(answer.Best!))], extras, twins.Own(bound ?? Bound.Sum(found.Select(answer => answer.Bound))), limits,
                now => progress?.Invoke(new(clock.Elapsed.TotalSeconds, now.Cost + stays, ToldOwn(now), true)), stop.Token);
            proof.Run(left);
            var higher = Bound.Higher(twins.Own(withSettings), proof.WithSettings);
            var last = PlanAssembler.Assemble(given, own, parts, [.. proof.Parts.Select(part => ((Chosen?)part, Bound.None))], limits, proof.Extras, proof.Bound, higher);

            // What is carried over from layout to layout only the whole plan knows.
            return last.TotalCost <= plan.TotalCost
                ? last
                : PlanAssembler.Assemble(given, own, parts, [.. found.Select(answer => ((Chosen?)twins.AtOwnPrices(answer.Best!), Bound.None))], limits, extras, proof.Bound, higher);

            Bound ToldOwn(WholeProof now) =>
                Bound.Higher(now.Bound.Plus(settings, SettingBound.Name), Bound.Higher(twins.Own(withSettings), now.WithSettings)).Plus(stays, PlanAssembler.KeptName);
        }

        void Report(int c, Chosen? best, Bound bound)
        {
            SolveProgress now;
            lock (gate)
            {
                answers[c] = (best, bound);
                now = new(
                    clock.Elapsed.TotalSeconds,
                    Money.FromUnits(answers.Select((answer, at) => (answer.Best?.Cost ?? 0) + SetUps(at, answer.Best)).Sum()) + stays - Raised(answers.Select(answer => answer.Best)),
                    answers.All(answer => answer.Best is { MissingCount: 0 }) ? Told(Bound.Sum(answers.Select(answer => answer.Bound)), Bound.None) : Bound.None,
                    answers.All(answer => answer.Best is not null),
                    answers.Sum(answer => answer.Best?.MissingCount ?? 0));
            }

            Planned(now.Complete);
            progress?.Invoke(now);
        }

        Bound Told(Bound bound, Bound withSettings) => Bound.Higher(twins.Own(bound).Plus(settings, SettingBound.Name), twins.Own(withSettings)).Plus(stays, PlanAssembler.KeptName);

        long SetUps(int c, Chosen? best) => best?.SetUps(components[c]) ?? 0;

        Money Raised(IEnumerable<Chosen?> parts) => twins.Raised(parts.SelectMany(part => part?.Columns ?? []));

        void Planned(bool complete)
        {
            if (complete && Interlocked.Exchange(ref planned, 1) == 0)
            {
                EndWhen(cancel.IsCancellationRequested);
            }
        }

        void EndWhen(bool now)
        {
            if (now)
            {
                stop.Cancel();
            }
        }
    }
}
