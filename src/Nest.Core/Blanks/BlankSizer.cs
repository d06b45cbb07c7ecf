using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Blanks;

/// <summary>From finished sizes to blanks, and to every stock that can serve them.</summary>
/// <remarks>
/// Problem: what must be sawn for each part, and from which stocks of the job it can be sawn. Method: for every stock of the part's
/// material, of an allowed form and with a saw that takes it, all ways in which the part may lie are tried (<see cref="PartWays"/>)
/// and the one that needs the least length (bar) or plan area (plate) is taken. Exact: integers only, diagonals compared by their
/// squares. Cost: parts × stocks × 6 ways.
/// <para>A stock serves when its <b>smallest</b> size covers the blank. One exception: a dimension whose two surfaces both stay as
/// the mill made them and which is nominally the finished size is covered by definition: the mill's tolerance is then accepted
/// with the surface.</para>
/// <para>A round part's blank needs a round section whatever it is sawn from: corners of square stock are metal to be turned away
/// and count in the extra cost.</para>
/// <para>A part that is a length of a section (<see cref="Part.Detail"/>) is served by stock of just that section, and nothing is milled off.</para>
/// Pure.
/// </remarks>
public static class BlankSizer
{
    /// <summary>One blank per part, in the job's order.</summary>
    public static ImmutableArray<Blank> Size(Job job)
    {
        // What is cut to size for one part is looked at for that part alone: of 100 000 parts each has its own.
        var general = Enumerable.Range(0, job.Stocks.Length).Where(at => job.Stocks[at].CutFor is null).ToList();
        var cut = Enumerable.Range(0, job.Stocks.Length).Where(at => job.Stocks[at].CutFor is not null).ToLookup(at => job.Stocks[at].CutFor!, StringComparer.Ordinal);
        return [.. job.Parts.Select(part => Size(job, part, cut[part.Id].Any() ? general.Concat(cut[part.Id]).Order().Select(at => job.Stocks[at]) : general.Select(at => job.Stocks[at])))];
    }

    /// <summary>The blank of one part.</summary>
    public static Blank Size(Job job, Part part) => Size(job, part, job.Stocks);

    private static Blank Size(Job job, Part part, IEnumerable<Stock> stocks)
    {
        var material = job.MaterialOf(part.MaterialId);
        var allowances = AllowancesFor(job, part, material);
        var fits = ImmutableArray.CreateBuilder<BlankFit>();
        var block = part.AsBlock();
        var misses = new Misses(job, block);
        foreach (var stock in stocks)
        {
            if (!SameMaterial(stock, part))
            {
                misses.OtherMaterial();
            }
            else if (stock.CutFor is not null && !string.Equals(stock.CutFor, part.Id, StringComparison.Ordinal))
            {
                // The supplier cuts it to size for another part.
                misses.OtherMaterial();
            }
            else if (!part.Forms.Has(stock.Form))
            {
                misses.FormNotAllowed(stock);
            }
            else if (!job.Allows(part, stock))
            {
                misses.RuledOut(stock, job.HasCertificate(stock));
            }
            else if (stock.Available <= 0)
            {
                misses.NoneLeft(stock);
            }
            else if (job.SawFor(stock) is not { } saw)
            {
                misses.NoSaw(stock);
            }
            else if (Fit(job, block, material, allowances, stock, saw, misses, MilledAway.Finished(part)) is { } fit)
            {
                fits.Add(fit);
            }
        }

        // What is shown of a round part is the way that the thinnest plate serves.
        var shown = part.Detail is not null
            ? PartWays.AsLength(part, allowances)
            : PartWays.OnPlate(block, allowances, part.MillFaces && HasGoodPlate(job, part)).MinBy(way => way.Up)!;
        return new Blank
        {
            Part = part,
            Allowances = allowances,
            Length = shown.Along,
            Width = shown.Across,
            Thickness = shown.Up,
            Demand = job.DemandOf(part),
            Fits = fits.ToImmutable(),
            Reason = fits.Count == 0 ? misses.ToString() : "",
        };
    }

    /// <summary>Rules from top to bottom, then the part's own; zero where nothing is said. Lengths of a section that is not turned know no rules.</summary>
    public static Allowances AllowancesFor(Job job, Part part, Material material)
    {
        var allowances = default(Allowances);
        var ruled = part.Detail is null || part.Forms.Section() is { } form && form.IsTurned();
        foreach (var rule in job.AllowanceRules)
        {
            if (ruled && rule.Matches(part, material))
            {
                allowances = rule.Allowances.Over(allowances);
            }
        }

        return part.Allowances?.Over(allowances) ?? allowances;
    }

    private static BlankFit? Fit(
        Job job, Part part, Material material, Allowances allowances, Stock stock, Saw saw, Misses misses, decimal? finished)
    {
        var trims = saw.TrimsOn(stock);
        var usableX = stock.MinLength - trims.Left - trims.Right;
        var usableY = stock.MinWidth - trims.Bottom - trims.Top;
        var bar = stock.Form.IsBar();
        if (!bar && TrimsTooLong(stock, saw, trims, usableX))
        {
            misses.TrimTooLong(stock, saw);
            return null;
        }

        if (!Clamp.HoldsTrimmed(saw, trims, usableX, bar ? null : usableY))
        {
            misses.TrimNotHeld(stock, saw);
            return null;
        }

        PartWay? best = null;
        var ends = SawnEnds.Of(part, allowances, stock, saw);
        var ways = bar
            ? PartWays.OnBar(part, allowances, stock)
            : PartWays.OnPlate(part, allowances, part.MillFaces && stock.GoodFaces);
        if (ends is not null)
        {
            if (ends.ShortEdge(part) < saw.ShortestHeld)
            {
                misses.AngledNotHeld(stock, saw, ends.ShortEdge(part));
                return null;
            }

            ways = SawnEnds.Ways(ways, ends, part, stock, saw, job.Unit);
        }

        foreach (var way in ways)
        {
            if (way.IsLength && !stock.IsSectionOf(part))
            {
                misses.OtherSection(stock);
            }
            else if (!way.IsLength && !Covers(way, stock, bar, out var lack))
            {
                misses.TooThin(stock, way, lack);
            }
            else if (!bar && !FitsPlan(way, usableX, usableY, saw))
            {
                misses.TooSmall(stock, way, usableX, usableY);
            }
            else if (stock.CutFor is not null && !bar && !IsWhole(way, stock))
            {
                misses.NotToSize(stock, way);
            }
            else if (bar && way.Along > usableX)
            {
                misses.TooShort(stock, way.Along - usableX, usableX);
            }
            else if (!bar && !Clamp.Holds(saw, way, usableX, usableY))
            {
                misses.NotHeld(stock, saw, way);
            }
            else if (best is null || Needs(way) < Needs(best))
            {
                best = way;
            }
        }

        // On a bar there is one blank, the shortest: a longer one is not taken because it can be held, nor is a longer piece cut to its size.
        if (best is not null && bar && !Clamp.Holds(saw, best, usableX, null))
        {
            misses.NotHeld(stock, saw, best);
            best = null;
        }

        if (best is not null && stock.CutFor is not null && bar && best.Along != stock.MinLength)
        {
            misses.NotToSize(stock, best);
            best = null;
        }

        if (best is null)
        {
            return null;
        }

        // Milled is the part, not what its angled cuts take.
        var milled = ends is null ? best : best with { Along = best.Along - SawnEnds.Beyond(ends, part, stock, saw, job.Unit) };
        var facedAway = Length.Max(Length.Zero, stock.Thickness - best.Up);
        return new(
            stock.Id,
            best.Along,
            bar ? stock.MinWidth : best.Across,
            !bar && part.MayTurn,
            bar && best.Turned,
            facedAway,
            MilledAway.Cost(job, part, material, stock, milled, finished))
        {
            Ends = ends,
            AngledCuts = SawnEnds.Cost(job, stock, saw, ends),
        };

        Int128 Needs(PartWay way) => bar ? way.Along.Nanometres : way.Plan.SquareNanometres;
    }

    /// <summary>Whether the stock's smallest section (bar) or thickness (plate) covers what the way needs.</summary>
    /// <param name="lack">By how much not.</param>
    private static bool Covers(PartWay way, Stock stock, bool bar, out Length lack)
    {
        lack = Length.Zero;
        if (stock.Form == Form.RoundBar)
        {
            if (way.RoundSection)
            {
                return Enough(stock.MinWidth, stock.Width, way.Across, way.AcrossStays, ref lack);
            }

            // The corners of the rectangle must lie inside the bar: its diagonal, compared by squares.
            var diagonal = (way.Across * way.Across) + (way.Up * way.Up);
            if (diagonal <= stock.MinWidth * stock.MinWidth)
            {
                return true;
            }

            var root = (long)Math.Ceiling(Math.Sqrt((double)diagonal.SquareNanometres));
            lack = Length.Max(Length.FromNanometres(root) - stock.MinWidth, Length.FromNanometres(1));
            return false;
        }

        var thick = Enough(stock.MinThickness, stock.Thickness, way.Up, way.UpStays, ref lack);
        return !bar ? thick : Enough(stock.MinWidth, stock.Width, way.Across, way.AcrossStays, ref lack) && thick;
    }

    private static bool Enough(Length smallest, Length nominal, Length need, bool stays, ref Length lack)
    {
        if (smallest >= need || (stays && nominal == need))
        {
            return true;
        }

        lack = Length.Max(lack, need - smallest);
        return false;
    }

    private static bool FitsPlan(PartWay way, Length usableX, Length usableY, Saw saw)
    {
        var straight = way.Along <= usableX && way.Across <= usableY;
        var turned = way.MayTurn && way.Across <= usableX && way.Along <= usableY;
        if ((!straight && !turned) || saw.Kind == SawKind.Cutter || saw.LargestCut is not { } largest)
        {
            return straight || turned;
        }

        // Without a first cut that the saw can make, only a blank of the very size of the sheet comes out of it.
        return (saw.FirstCut != CutDirection.Rip && usableY <= largest)
            || (saw.FirstCut != CutDirection.Crosscut && usableX <= largest)
            || (straight && way.Along == usableX && way.Across == usableY)
            || (turned && way.Across == usableX && way.Along == usableY);
    }

    // A piece that comes cut to size is the blank.
    private static bool IsWhole(PartWay way, Stock stock) =>
        (way.Along == stock.MinLength && way.Across == stock.MinWidth)
        || (way.MayTurn && way.Across == stock.MinLength && way.Along == stock.MinWidth);

    // Left and right trims run across the whole sheet, bottom and top across what remains between them.
    private static bool TrimsTooLong(Stock stock, Saw saw, EdgeTrims trims, Length usableX) =>
        saw.Kind != SawKind.Cutter
        && saw.LargestCut is { } largest
        && ((trims.Left + trims.Right > Length.Zero && stock.MinWidth > largest)
            || (trims.Bottom + trims.Top > Length.Zero && usableX > largest));

    private static bool SameMaterial(Stock stock, Part part) =>
        string.Equals(stock.MaterialId, part.MaterialId, StringComparison.OrdinalIgnoreCase);

    private static bool HasGoodPlate(Job job, Part part) =>
        job.Stocks.Any(stock => stock.Form == Form.Plate && stock.GoodFaces && SameMaterial(stock, part));
}
