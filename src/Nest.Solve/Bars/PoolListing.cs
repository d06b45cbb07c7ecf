namespace Nest.Solve.Bars;

/// <summary>Lists all layouts that can still belong to a plan within a target, at duals that leave few of them.</summary>
/// <remarks>
/// Where bars are full almost to the end, most layouts are as good as the best at the duals that the linear programme happens to give (each piece at its share of the bar, say): millions for 200 pieces.
/// But such programmes have many optimal duals. At their mean a layout has no reduced cost only where it has none at any of them, so few layouts are left: some hundreds.
/// Method: other duals are looked for against layouts that were listed, the demand of their pieces lowered a little (a point on the optimal face that makes these dear), until a list at the mean of all duals ends.
/// Guarantee: what is listed is complete, as for any duals (<see cref="LayoutPool"/>); that a list ends is not promised. O(<see cref="MostTurns"/> · (<see cref="DualsAtOnce"/> linear programmes + a list)).
/// Of 20 instances AI and ANI of 201 pieces (Delorme, Iori, Martello 2016) 13 were proven in 60 s without, all with this, most in 3 s; of 10 with 402 pieces 4; 30 November 2026.
/// </remarks>
internal sealed class PoolListing(BarModel model, BarMaster master, Random random, WorkMeter meter)
{
    /// <summary>Other duals that are looked for before layouts are listed again.</summary>
    private const int DualsAtOnce = 10;

    /// <summary>Times that these exclude none of the layouts listed so far, after which others are not expected to.</summary>
    private const int MostIdle = 8;

    /// <summary>Times at most, idle or not: a plan may be found elsewhere.</summary>
    private const int MostTurns = 40;

    /// <summary>Elementary steps of a layout held against a dual.</summary>
    private const long StepsToSieve = 10;

    /// <summary>By how much right sides are moved at random for these.</summary>
    private const double Noise = 1e-2;

    /// <summary>Shares of a layout's pieces by which the demand is lowered, in turn: small ones stay on the optimal face, large ones leave it a little and exclude more.</summary>
    private static readonly double[] Pulls = [0.1, 0.2, 0.05];

    /// <param name="target">Cost of a plan at most.</param>
    /// <param name="high">Most bars of each range.</param>
    /// <param name="most">Layouts at most.</param>
    /// <param name="otherDuals">Whether others are looked for where the best leaves too many.</param>
    /// <returns>Null where they are too many.</returns>
    public LayoutPool? List(long target, int[] high, int most, bool otherDuals)
    {
        var pool = LayoutPool.List(model, master.BestDual!, target, high, most, meter);
        int idle = 0;
        for (int turn = 0; !pool.Complete; turn++)
        {
            if (!otherDuals || turn == MostTurns || idle == MostIdle || pool.Patterns.Count == 0 || meter.Stop)
            {
                return null;
            }

            if (!LookAgainst(pool, target))
            {
                idle++;
                continue;
            }

            idle = 0;
            if (master.MeanDual(meter) is { } mean)
            {
                pool = LayoutPool.List(model, mean, target, high, most, meter);
            }
        }

        // Each of the others may exclude some more. What a sieve leaves out of account is a longer list, nothing else: it ends with the time.
        foreach (var dual in master.Duals.TakeWhile(_ => !meter.Stop))
        {
            meter.Steps(pool.Patterns.Count * StepsToSieve);
            pool.Sieve(dual, target);
        }

        return pool;
    }

    /// <returns>Whether some of the layouts were excluded.</returns>
    private bool LookAgainst(LayoutPool pool, long target)
    {
        int known = master.Duals.Count;
        for (int n = 0; n < DualsAtOnce && !meter.Stop; n++)
        {
            master.LookAgainst(pool.Patterns[random.Next(pool.Patterns.Count)], Pulls[(known + n) % Pulls.Length], Noise, random, meter);
        }

        return master.Duals.Skip(known).Any(dual => pool.Excludes(dual, target));
    }
}
