namespace Nest.Solve.Exact;

/// <summary>How wide the gap is in which the loads at some counts are listed next, and how much the list may take.</summary>
/// <remarks>What a list takes (pairs of partial loads that are joined) grows with some power of its gap. The next gap is as wide as should take <see cref="MoreJoins"/> times as
/// much as the last one; a list that takes far more is broken off, and made in a smaller gap.</remarks>
internal static class GapSteps
{
    /// <summary>What any list may take.</summary>
    public const double MostJoins = 5e9;

    /// <summary>So often a step is made smaller whose list takes too much.</summary>
    public const int MostTries = 3;

    /// <summary>First gap, as a share of the cost.</summary>
    private const double FirstShare = 0.005;

    /// <summary>A gap that is this close to all that is of use becomes all.</summary>
    private const double NearlyAll = 1.15;

    /// <summary>What any list may take, whatever the one before took.</summary>
    private const double FirstJoins = 30_000_000;

    /// <summary>Else so many times as much as the one before.</summary>
    private const double MostMoreJoins = 30;

    /// <summary>Lists that take less are made <see cref="MostWidened"/> times as wide each time.</summary>
    private const long EasyJoins = 1_000_000;

    /// <summary>So many times as much as the last list the next one should take.</summary>
    private const double MoreJoins = 5;

    /// <summary>However little is left, a list takes so many times as much as the last one: less would tell nothing new.</summary>
    private const double LeastMoreJoins = 1.1;

    /// <summary>Of what is left of the limit a list should take no more than this, as what it takes is a guess.</summary>
    private const double ShareOfRest = 0.6;

    /// <summary>The power, as long as there is one list.</summary>
    private const double FirstPower = 4;
    private const double LeastWidened = 1.1;
    private const double MostWidened = 2;

    /// <summary>The first gap at some counts, in grains.</summary>
    /// <param name="few">Whether the demand allows so few loads that the list is short anyway.</param>
    /// <param name="cost">Bound on what the counts cost.</param>
    /// <param name="enough">What a closed cost may miss.</param>
    public static double First(bool few, double cost, double enough) => Math.Max((few ? 4 : 1) * FirstShare * Math.Abs(cost), 4 * enough);

    /// <summary>The next gap, or the smaller one whose list should be ready in what is left of the limit.</summary>
    public static double Affordable(PartProof.Closing before, double remaining)
    {
        var more = ShareOfRest * remaining / Math.Max(1e-9, before.Took);
        return more >= MoreJoins ? before.Next : before.Gap * Math.Pow(before.Next / before.Gap, Math.Log(Math.Max(LeastMoreJoins, more)) / Math.Log(MoreJoins));
    }

    /// <summary>This gap, or all that is of use where that is little more.</summary>
    public static double Upto(double gap, double most) => gap * NearlyAll >= most ? most : gap;

    /// <summary>Between the last gap and this one: a part of the step says a part as much.</summary>
    public static double Smaller(PartProof.Closing before, double gap) => before.Gap + ((gap - before.Gap) / 3);

    /// <summary>What the next list may take.</summary>
    public static double MostJoinsAfter(PartProof.Closing? before) => Math.Max(FirstJoins, MostMoreJoins * (before?.Joins ?? 0));

    /// <summary>The gap after one whose list took so many joins.</summary>
    public static double After(PartProof.Closing? before, double gap, long joins)
    {
        if (joins < EasyJoins)
        {
            return gap * MostWidened;
        }

        var power = before is null || before.Joins < 1 || gap <= before.Gap ? FirstPower : Math.Log(joins / (double)before.Joins) / Math.Log(gap / before.Gap);
        return gap * Math.Clamp(Math.Pow(MoreJoins, 1 / Math.Max(1, power)), LeastWidened, MostWidened);
    }
}
