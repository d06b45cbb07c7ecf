using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Check;

/// <summary>The size that a piece of a part must have on a stock, and what its facing costs.</summary>
/// <param name="SizeX">Along the stock, as not turned.</param>
/// <param name="SizeY">Across; on bars the section's smallest width.</param>
/// <param name="Across">Whether the part's length (round: axis) lies across a bar.</param>
/// <param name="Facing">Cost of milling away what the stock has over the blank.</param>
internal sealed record ExpectedBlank(Length SizeX, Length SizeY, bool Across, Money Facing)
{
    /// <summary>Angled ends that the saw makes; null: both square.</summary>
    public EndAngles? Ends { get; init; }
}

/// <summary>Works the allowances and blanks out a second time, in the checker's own way: every dimension of the part has a size as
/// sawn end and a size as part of the section, and every assignment of dimensions to stock axes is tried.</summary>
internal static class ExpectedBlanks
{
    /// <summary>All sizes that are right for this part on this stock (more than one only on plate, for round parts and those that may lie any way); empty when the
    /// stock's thickness or section does not cover the part.</summary>
    public static IReadOnlyList<ExpectedBlank> Of(Job job, Part part, Material material, Stock stock, Saw saw)
    {
        var given = Given(job, part, material);
        var one = part;
        part = RulesGang.Block(part);
        if (stock.Form != Form.Plate && part.Ends is { } ends && ExpectedEnds.AreSawn(part, given, saw))
        {
            // A blank that lies across the bar has no end at the part's end.
            return OnBar(job, part with { MayTurn = false }, material, stock, given) is not { } square
                ? []
                : [square with { SizeX = square.SizeX + ExpectedEnds.Room(ends, saw, job.Unit) + ExpectedEnds.Milled(ends, part, stock, job.Unit), Ends = ends }];
        }

        return stock.Form == Form.Plate
            ? [.. OnPlate(job, part, material, stock, given).Select(blank => RulesGang.Whole(job, one, blank, Cubic(blank.SizeX * blank.SizeY, stock.Thickness), volume => Milling(job, material, volume)))]
            : OnBar(job, part, material, stock, given) is { } blank
                ? [RulesGang.Whole(job, one, blank, Cubic(Whole(stock), blank.SizeX), volume => Milling(job, material, volume))] : [];
    }

    private static IEnumerable<ExpectedBlank> OnPlate(Job job, Part part, Material material, Stock stock, Allowances given)
    {
        var good = part.MillFaces && stock.GoodFaces;
        var facing = good ? Length.Zero : given.FaceTop + given.FaceBottom;
        if (!part.Round)
        {
            var x = part.Length + given.SideCleanUp + given.SideCleanUp;
            var y = part.Width + given.SideCleanUp + given.SideCleanUp;
            var height = part.Thickness + facing + given.Grip;
            if (Reaches(stock.MinThickness, stock.Thickness, height, good && given.Grip == Length.Zero))
            {
                yield return new(x, y, false, Milling(job, material, Cubic(x * y, stock.Thickness) - Cubic(x * y, height)));
            }

            if (part.Lie == Lie.Any)
            {
                // On its edge or its end: the thickness is sawn, and the plate's faces are milled off the sides.
                var bothSides = given.SideCleanUp + given.SideCleanUp;
                var low = part.Thickness + given.Grip + (given.FaceTop > given.SideCleanUp ? given.FaceTop : given.SideCleanUp)
                    + (given.FaceBottom > given.SideCleanUp ? given.FaceBottom : given.SideCleanUp);
                foreach (var (along, up) in part.MayTurn ? [(part.Length, part.Width), (part.Width, part.Length)] : new[] { (part.Length, part.Width) })
                {
                    if (stock.MinThickness >= up + bothSides)
                    {
                        var area = (along + bothSides) * low;
                        yield return new(along + bothSides, low, false, Milling(job, material, Cubic(area, stock.Thickness) - Cubic(area, up + bothSides)));
                    }
                }
            }

            yield break;
        }

        var grip = part.Holding == Holding.Chuck ? given.Grip : Length.Zero;
        var diameter = part.Width + given.SideCleanUp + given.SideCleanUp;
        var axis = part.Length + given.EndCleanUp + given.EndCleanUp + grip;
        if (stock.MinThickness >= diameter)
        {
            yield return new(axis, diameter, false,
                Milling(job, material, Cubic((diameter * stock.Thickness) - Circle(diameter), axis)));
        }

        var upright = part.Length + facing + grip;
        if (part.MayTurn && Reaches(stock.MinThickness, stock.Thickness, upright, good && grip == Length.Zero))
        {
            yield return new(diameter, diameter, true,
                Milling(job, material, Cubic(diameter * stock.Thickness, diameter) - Cubic(Circle(diameter), upright)));
        }
    }

    private static ExpectedBlank? OnBar(Job job, Part part, Material material, Stock stock, Allowances given)
    {
        var roundBar = stock.Form == Form.RoundBar;
        var facesStay = part.MillFaces && stock.GoodFaces && !roundBar;
        var facing = facesStay ? Length.Zero : given.FaceTop + given.FaceBottom;
        var twoEnds = given.EndCleanUp + given.EndCleanUp;
        ExpectedBlank? best = null;
        if (part.Detail is { } asked)
        {
            var held = part.Holding == Holding.Chuck ? given.Grip : Length.Zero;
            return ExpectedSections.Same(stock, part, asked) ? new(part.Length + twoEnds + held, stock.MinWidth, false, Money.Zero) : null;
        }

        if (part.Round)
        {
            var grip = part.Holding == Holding.Chuck ? given.Grip : Length.Zero;
            var asIs = roundBar && part.MillSides;
            var diameter = part.Width + (asIs ? Length.Zero : given.SideCleanUp + given.SideCleanUp);
            var axis = part.Length + twoEnds + grip;
            var covered = roundBar
                ? Reaches(stock.MinWidth, stock.Width, diameter, asIs)
                : stock.MinWidth >= diameter && stock.MinThickness >= diameter;
            if (covered)
            {
                best = new(axis, stock.MinWidth, false, Milling(job, material, Cubic(Whole(stock) - Circle(diameter), axis)));
            }

            var sawn = part.Width + twoEnds;
            var across = part.Length + facing + grip;
            if (!roundBar && stock.Form != Form.HexBar && part.MayTurn && (best is null || sawn < best.SizeX)
                && Section(stock, diameter, false, across, facesStay && grip == Length.Zero))
            {
                best = new(sawn, stock.MinWidth, true,
                    Milling(job, material, Cubic(Whole(stock), sawn) - Cubic(Circle(diameter), across)));
            }

            return best;
        }

        var sidesStay = part.MillSides && !roundBar;
        var clean = sidesStay ? Length.Zero : given.SideCleanUp + given.SideCleanUp;
        var top = given.FaceTop > given.EndCleanUp ? given.FaceTop : given.EndCleanUp;
        var bottom = given.FaceBottom > given.EndCleanUp ? given.FaceBottom : given.EndCleanUp;
        (Length Sawn, Length InSection, bool Stays)[] dimensions =
        [
            (part.Length + twoEnds, part.Length + clean, sidesStay),
            (part.Width + twoEnds, part.Width + clean, sidesStay),
            (part.Thickness + given.Grip + top + bottom, part.Thickness + given.Grip + facing, facesStay && given.Grip == Length.Zero),
        ];
        for (var along = 0; along < (!part.MayTurn || part.Lie == Lie.AsGiven ? 1 : part.Lie == Lie.Flat ? 2 : 3); along++)
        {
            var one = dimensions[along == 0 ? 1 : 0];
            var other = dimensions[along == 2 ? 1 : 2];
            var sawn = dimensions[along].Sawn;
            if ((best is null || sawn < best.SizeX) && Section(stock, one.InSection, one.Stays, other.InSection, other.Stays))
            {
                best = new(sawn, stock.MinWidth, along > 0,
                    Milling(job, material, Cubic(Whole(stock) - (one.InSection * other.InSection), sawn)));
            }
        }

        return best;
    }

    // Whether two dimensions lie within the section, either way round; in a round bar by the diagonal.
    private static bool Section(Stock stock, Length one, bool oneStays, Length other, bool otherStays)
    {
        if (stock.Form == Form.RoundBar)
        {
            return (Int128)one.Nanometres * one.Nanometres + (Int128)other.Nanometres * other.Nanometres
                <= (Int128)stock.MinWidth.Nanometres * stock.MinWidth.Nanometres;
        }

        return (Reaches(stock.MinWidth, stock.Width, one, oneStays) && Reaches(stock.MinThickness, stock.Thickness, other, otherStays))
            || (Reaches(stock.MinWidth, stock.Width, other, otherStays) && Reaches(stock.MinThickness, stock.Thickness, one, oneStays));
    }

    // Mill surfaces that stay are accepted with the mill's tolerance.
    private static bool Reaches(Length smallest, Length nominal, Length need, bool stays) =>
        need <= smallest || (stays && need == nominal);

    /// <summary>What a side of the blank has at most over the part: clean-up of side or end.</summary>
    public static Length CleanUp(Job job, Part part)
    {
        var given = Given(job, part, job.Materials.First(one => one.Id.Equals(part.MaterialId, StringComparison.OrdinalIgnoreCase)));
        return given.SideCleanUp > given.EndCleanUp ? given.SideCleanUp : given.EndCleanUp;
    }

    private static Allowances Given(Job job, Part part, Material material)
    {
        Length side = default, end = default, top = default, bottom = default, grip = default;
        // The shop's allowances are for what is machined, and for the turned ends of hex bar and round tube.
        var sawnOnly = part.Detail is not null && part.Forms is not (Forms.HexBar or Forms.RoundTube);
        foreach (var rule in job.AllowanceRules)
        {
            if (!sawnOnly && (rule.MaterialId is null || rule.MaterialId.Equals(material.Id, StringComparison.OrdinalIgnoreCase))
                && (rule.Family is null || rule.Family.Equals(material.Family, StringComparison.OrdinalIgnoreCase))
                && (rule.Holding is null || rule.Holding == part.Holding))
            {
                Take(rule.Allowances);
            }
        }

        Take(part.Allowances);
        return new(side, end, top, bottom, grip);

        void Take(AllowanceOverrides? from)
        {
            side = from?.SideCleanUp ?? side;
            end = from?.EndCleanUp ?? end;
            top = from?.FaceTop ?? top;
            bottom = from?.FaceBottom ?? bottom;
            grip = from?.Grip ?? grip;
        }
    }

    /// <summary>The nominal section of a bar, of a plate width × thickness.</summary>
    public static Area Whole(Stock stock) => ExpectedSections.Metal(stock);

    private static Area Circle(Length diameter) => ExpectedSections.Circle(diameter);

    // Cubic centimetres.
    private static decimal Cubic(Area section, Length length) =>
        section.ToSquareCentimetres() * (length.Nanometres / 10_000_000m);

    private static Money Milling(Job job, Material material, decimal cubicCentimetres)
    {
        if (cubicCentimetres <= 0m)
        {
            return Money.Zero;
        }

        var rate = job.Mill.DefaultRemovalRate;
        foreach (var one in job.Mill.RemovalRates)
        {
            if (one.Family.Equals(material.Family, StringComparison.OrdinalIgnoreCase))
            {
                rate = one.CubicCentimetresPerMinute;
                break;
            }
        }

        return Amounts.Nearest(cubicCentimetres / rate * job.Mill.HourlyRate / 60m);
    }
}
