using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Judge.Enumeration;

/// <summary>What a part needs of one stock.</summary>
/// <param name="X">Along the stock.</param>
/// <param name="Y">Across; on bars zero.</param>
/// <param name="Turns">May also lie turned by a quarter (plates).</param>
/// <param name="Facing">Milling away what the stock has over the blank, in units.</param>
/// <param name="Angled">The angled cuts at its ends, in units.</param>
internal sealed record SawnBlank(Length X, Length Y, bool Turns, long Facing, long Angled)
{
    /// <summary>The ends that are sawn at an angle; null: none.</summary>
    public EndAngles? Ends { get; init; }

    /// <summary>The blank of the part on this stock; null when the stock does not serve it. Whether it fits by length is not asked.</summary>
    /// <remarks>Flat parts on plates, flat and square bars, round parts along round bars; other pairs are too much for this judge.</remarks>
    /// <param name="saw">Null: cut to size by the supplier.</param>
    public static SawnBlank? Of(Job job, Part part, Stock stock, Saw? saw)
    {
        if (!part.MaterialId.Equals(stock.MaterialId, StringComparison.OrdinalIgnoreCase)
            || ((int)part.Forms >> (int)stock.Form & 1) == 0
            || (stock.CutFor is { } other && other != part.Id))
        {
            return null;
        }

        var material = job.Materials.First(one => one.Id.Equals(part.MaterialId, StringComparison.OrdinalIgnoreCase));
        var given = Given(job, part, material);
        if (part.Detail is { } asked)
        {
            return OnSection(job, part, asked, stock, saw, material, given);
        }

        if (part.Round != (stock.Form == Form.RoundBar))
        {
            throw new TooLargeException("Round parts from flat stock, or flat ones from round stock, are not enumerated.");
        }

        var block = GangWays.Block(part);
        var blank = stock.Form switch
        {
            Form.Plate => OnPlate(job, block, stock, material, given),
            Form.RoundBar => OnRound(job, part, stock, material, given),
            _ => OnFlat(job, block, stock, saw, material, given),
        };
        if (blank is null || part.PerBlank is null)
        {
            return blank;
        }

        // All that the mill takes off, and each blank's clamping; a rest is set up for by itself.
        var metal = stock.Form == Form.Plate ? Mm(blank.X) * Mm(blank.Y) * Mm(stock.Thickness) : CostRules.Section(stock) * Mm(blank.X);
        var parts = Mm(part.Length) * Mm(part.Width) * Mm(part.Thickness) * (part.Gang is { } gang ? gang.Rows * gang.Columns : 1);
        var clamping = Money.FromAmount(job.Mill.BlankMinutes * job.Mill.HourlyRate / 60m).Units;
        var settingUp = part.Gang?.Rest == true ? Money.FromAmount(job.Fuss.FurtherSizeMinutes * job.Mill.HourlyRate / 60m).Units : 0;
        return blank with { Facing = CostRules.Facing(job, material, metal - parts) + clamping + settingUp };
    }

    /// <summary>The larger clean-up of side and end.</summary>
    internal static Length CleanUp(Job job, Part part)
    {
        var given = Given(job, part, job.Materials.First(one => one.Id.Equals(part.MaterialId, StringComparison.OrdinalIgnoreCase)));
        return Length.Max(given.SideCleanUp, given.EndCleanUp);
    }

    private static SawnBlank? OnPlate(Job job, Part part, Stock stock, Material material, Allowances given)
    {
        var facesStay = part.MillFaces && stock.GoodFaces;
        var x = part.Length + (given.SideCleanUp * 2);
        var y = part.Width + (given.SideCleanUp * 2);
        var z = part.Thickness + given.Grip + (facesStay ? Length.Zero : given.FaceTop + given.FaceBottom);
        return Covers(stock.MinThickness, stock.Thickness, z, facesStay && given.Grip == Length.Zero)
            ? new(x, y, part.MayTurn, CostRules.Facing(job, material, Mm(x) * Mm(y) * (Mm(stock.Thickness) - Mm(z))), 0)
            : null;
    }

    /// <summary>A length of the section itself; only its ends cost.</summary>
    private static SawnBlank? OnSection(Job job, Part part, SectionDetail asked, Stock stock, Saw? saw, Material material, Allowances given)
    {
        if (stock.Detail is not { } own || stock.Width != part.Width || stock.Thickness != part.Thickness
            || own.Wall != asked.Wall || (own.Flange ?? own.Wall) != (asked.Flange ?? asked.Wall))
        {
            return null;
        }

        var end = stock.Form is Form.HexBar or Form.RoundTube ? given.EndCleanUp : part.Allowances?.EndCleanUp ?? Length.Zero;
        var blank = new SawnBlank(part.Length + (end * 2), Length.Zero, false, 0, 0);
        return saw is not null && end == Length.Zero && part.Ends is { Cuts: > 0 } ends ? AngledEnds.Add(blank, ends, job, part, stock, saw, material) : blank;
    }

    private static SawnBlank? OnRound(Job job, Part part, Stock stock, Material material, Allowances given)
    {
        var diameter = part.Width + (part.MillSides ? Length.Zero : given.SideCleanUp * 2);
        var along = part.Length + (given.EndCleanUp * 2) + (part.Holding == Holding.Chuck ? given.Grip : Length.Zero);
        if (!Covers(stock.MinWidth, stock.Width, diameter, part.MillSides))
        {
            return null;
        }

        var round = CostRules.Section(stock with { Width = diameter });
        return new(along, Length.Zero, false, CostRules.Facing(job, material, (CostRules.Section(stock) - round) * Mm(along)), 0);
    }

    private static SawnBlank? OnFlat(Job job, Part part, Stock stock, Saw? saw, Material material, Allowances given)
    {
        var facesStay = part.MillFaces && stock.GoodFaces;
        var side = part.MillSides ? Length.Zero : given.SideCleanUp * 2;
        var faces = facesStay ? Length.Zero : given.FaceTop + given.FaceBottom;
        var ends = given.EndCleanUp * 2;
        var high = (Size: part.Thickness + given.Grip + faces, Stays: facesStay && given.Grip == Length.Zero);
        var wide = (Size: part.Width + side, Stays: part.MillSides);
        var far = (Size: part.Length + side, Stays: part.MillSides);
        var sawnFaces = Length.Max(given.FaceTop, given.EndCleanUp) + Length.Max(given.FaceBottom, given.EndCleanUp);
        var sawnEnds = saw is not null && part.Ends is { Cuts: > 0 } && given.EndCleanUp == Length.Zero ? part.Ends : null;
        List<(Length Along, (Length Size, bool Stays) One, (Length Size, bool Stays) Other)> ways = [(part.Length + ends, wide, high)];
        if (part.MayTurn && sawnEnds is null)
        {
            ways.Add((part.Width + ends, far, high));
            ways.Add((part.Thickness + given.Grip + sawnFaces, far, wide));
        }

        SawnBlank? best = null;
        foreach (var (along, one, other) in ways)
        {
            if ((best is null || along < best.X)
                && ((Covers(stock.MinWidth, stock.Width, one.Size, one.Stays) && Covers(stock.MinThickness, stock.Thickness, other.Size, other.Stays))
                    || (Covers(stock.MinWidth, stock.Width, other.Size, other.Stays) && Covers(stock.MinThickness, stock.Thickness, one.Size, one.Stays))))
            {
                var excess = (CostRules.Section(stock) - (Mm(one.Size) * Mm(other.Size))) * Mm(along);
                best = new(along, Length.Zero, false, CostRules.Facing(job, material, excess), 0);
            }
        }

        return best is null || sawnEnds is null ? best : AngledEnds.Add(best, sawnEnds, job, part, stock, saw!, material);
    }

    private static Allowances Given(Job job, Part part, Material material)
    {
        var given = default(Allowances);
        foreach (var rule in job.AllowanceRules)
        {
            if ((rule.MaterialId is null || rule.MaterialId.Equals(material.Id, StringComparison.OrdinalIgnoreCase))
                && (rule.Family is null || rule.Family.Equals(material.Family, StringComparison.OrdinalIgnoreCase))
                && (rule.Holding is null || rule.Holding == part.Holding))
            {
                given = Take(given, rule.Allowances);
            }
        }

        return part.Allowances is { } own ? Take(given, own) : given;
    }

    private static Allowances Take(Allowances given, AllowanceOverrides over) => new(
        over.SideCleanUp ?? given.SideCleanUp, over.EndCleanUp ?? given.EndCleanUp,
        over.FaceTop ?? given.FaceTop, over.FaceBottom ?? given.FaceBottom, over.Grip ?? given.Grip);

    // A mill surface that stays is taken with the mill's tolerance.
    private static bool Covers(Length smallest, Length nominal, Length need, bool stays) => need <= smallest || (stays && need == nominal);

    private static decimal Mm(Length length) => length.ToMillimetres();
}
