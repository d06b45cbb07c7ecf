using Nest.Core.Blanks;
using Nest.Core.Cutting;
using Nest.Core.Quantities;

namespace Nest.Solve.Exact;

/// <summary>Settings of fence and stop that plates at given counts of stock do not avoid, beyond what <see cref="SettingTerms"/> counts: by the sizes of all blanks that can come from nothing else then.</summary>
/// <remarks>
/// On a saw that cuts no bars at these counts, let T be the positions that the sizes of these blanks need (<see cref="StopPositions"/>), the best way to turn them, over all its layouts. Each is set once at least. A layout that is trimmed at
/// the left or at the bottom sets the stop for that too, and only its first stop may be carried over to it. So there are no fewer settings than T + Σ (trims − 1) over the stocks that are trimmed, and one more where all are. A plan that
/// costs less than a known one can pay for so many cuts only, which limits what falls out of a row (<see cref="CutLimit"/>). O(2^kinds · <see cref="StopPositions"/>) for new counts.
/// </remarks>
internal sealed class CountSettings(ExactJob job, SettingTerms terms)
{
    /// <summary>Kinds whose sizes are counted: with more of them every way to turn them takes too long.</summary>
    private const int MostKinds = 4;

    private readonly Dictionary<string, double> _known = new(StringComparer.Ordinal);
    private readonly HashSet<string> _raised = new(StringComparer.Ordinal);

    /// <summary>What is said holds for plans below this cost, in grains.</summary>
    public double HoldsBelow { get; private set; } = double.PositiveInfinity;

    /// <summary>Tells a programme once what counts cost beyond the terms.</summary>
    /// <returns>Whether that is anything new.</returns>
    public bool Raise(CountMaster master, int[] counts, double upper)
    {
        if (!double.IsFinite(upper) || !_raised.Add(job.TextOf(counts)) || Beyond(counts, upper) is not (> 0 and var more))
        {
            return false;
        }

        master.Raise(counts, more);
        return true;
    }

    /// <summary>What they cost beyond the terms, in currency units, in any plan that costs less than a known one.</summary>
    /// <param name="counts">By source; pieces cut to size are free in number.</param>
    /// <param name="upper">Cost of the known plan, settings in it, in grains.</param>
    public double Beyond(int[] counts, double upper)
    {
        if (!double.IsFinite(upper))
        {
            return 0;
        }

        // With fewer cuts to pay for no more is claimed than was.
        var key = job.TextOf(counts);
        if (!_known.TryGetValue(key, out var beyond))
        {
            HoldsBelow = Math.Min(HoldsBelow, upper);
            var saws = job.Sources.Where(source => IsUsed(source, counts)).GroupBy(source => source.Frame.Saw.Id, StringComparer.Ordinal);
            beyond = _known[key] = saws.Sum(saw => saw.Any(source => source is not PlateLoads) ? 0 : Beyond([.. saw.Cast<PlateLoads>()], counts, upper));
        }

        return beyond;
    }

    private static bool IsUsed(LoadSource source, int[] counts) => !source.IsSingle && counts[source.Number] > 0;

    private double Beyond(List<PlateLoads> plates, int[] counts, double upper)
    {
        var price = SettingTerms.PriceOf(plates[0].Frame.Saw);
        var fits = FitsOf(plates, counts).ToList();
        if (price <= 0 || fits.Count == 0)
        {
            return 0;
        }

        // All but these plates at their least.
        var cost = upper - (terms.At(counts) * Grain.PerCurrency);
        foreach (var source in job.Sources.Where(source => IsUsed(source, counts)))
        {
            cost -= counts[source.Number] * (source.Price + (plates.Contains(source) ? 0.0 : source.EmptyCost));
        }

        var kinds = fits.ToDictionary(fit => fit.Kind, fit => job.Demand[fit.Kind]);
        var most = CutLimit.Of(
            [.. plates.Select(plate => (plate.Shape, plate.Frame, counts[plate.Number]))], cost,
            plates[0].Kinds.Demand.Select((_, k) => kinds.GetValueOrDefault(job.FirstKind[plates[0].ComponentIndex] + k)).ToArray());
        var needed = StopPositions.LeastOf(
            [.. fits.Take(MostKinds).Select(fit => fit.Fit)], [.. plates.Select(plate => LoadSettings.Extent(plate, true)).Distinct()], [.. plates.Select(plate => LoadSettings.Extent(plate, false)).Distinct()],
            plates[0].Frame.Saw.Kerf.Nanometres, most);
        var trims = plates.Select(TrimsOf).ToList();
        var settings = needed + trims.Sum(some => Math.Max(0, some - 1)) + (trims.TrueForAll(some => some > 0) ? 1 : 0);
        return price * Math.Max(0, settings - 1 - plates.Sum(SettingTerms.OwnOf));
    }

    /// <summary>The kinds that come from nothing but these plates, all of one component, each at one size.</summary>
    private IEnumerable<(int Kind, BlankFit Fit)> FitsOf(List<PlateLoads> plates, int[] counts)
    {
        var c = plates[0].ComponentIndex;
        if (plates.Exists(plate => plate.ComponentIndex != c))
        {
            yield break;
        }

        for (var k = 0; k < job.Kinds[c].Count; k++)
        {
            var serve = job.Sources.Where(source => source.ComponentIndex == c && (source.IsSingle || counts[source.Number] > 0) && SettingTerms.Serves(source, k)).ToList();
            if (serve.Count > 0 && serve.TrueForAll(plates.Contains) && serve.Select(source => SettingTerms.FitOf(source, k)).DistinctBy(fit => (fit.SizeX, fit.SizeY, fit.MayTurn)).ToList() is [var fit])
            {
                yield return (job.FirstKind[c] + k, fit);
            }
        }
    }

    private static int TrimsOf(LoadSource source) => (source.Frame.Trims.Left > Length.Zero ? 1 : 0) + (source.Frame.Trims.Bottom > Length.Zero ? 1 : 0);
}
