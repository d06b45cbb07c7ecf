using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Judge.Jobs;

/// <summary>Parts of a made job.</summary>
internal static class MadeParts
{
    /// <summary>A part whose blank from plate is so many whole units.</summary>
    public static Part Part(JudgeRandom random, MadeShop shop, string id, int pieces)
    {
        var given = shop.Allowances;
        if (shop.Round)
        {
            var diameter = shop.Thickness - (given.SideCleanUp.ToMillimetres() * 2) - random.Pick(0m, 0m, 1m);
            return New(id, pieces, random.From(20, 180), diameter, diameter) with { Round = true, MillSides = random.Percent(20) };
        }

        var (x, y) = shop.Cutter ? (random.From(2, 6), random.From(2, 4)) : (random.From(2, 14), random.From(2, 9));
        var side = given.SideCleanUp.ToMillimetres() * 2;
        var thickness = shop.Thickness - (given.FaceTop + given.FaceBottom + given.Grip).ToMillimetres() - random.Pick(0m, 0m, 1m, 2m);
        var part = New(id, pieces, (x * shop.Unit) - side, (y * shop.Unit) - side, thickness) with
        {
            MayTurn = random.Percent(65),
            MillSides = random.Percent(15),
            MillFaces = random.Percent(15),
            Forms = random.Percent(80) ? Forms.Any : random.Pick(Forms.Plate, Forms.FlatBar, Forms.Plate | Forms.FlatBar),
        };
        return random.Percent(20) ? Angled(random, part) : part;
    }

    private static Part Angled(JudgeRandom random, Part part)
    {
        // Long enough that something is left between the ends.
        var across = random.Percent(30);
        var least = (across ? part.Thickness : part.Width).ToMillimetres() * 3.6m;
        if (part.Length.ToMillimetres() < least)
        {
            return part;
        }

        return part with
        {
            Ends = new(Angle.FromDegrees(random.Pick(0m, 45m, -45m, 30m)), Angle.FromDegrees(random.Pick(45m, -45m, 60m, -30m)), across),
            Allowances = random.Percent(80) ? new() { EndCleanUp = Length.Zero } : null,
        };
    }

    private static Part New(string id, int pieces, decimal length, decimal width, decimal thickness) => new()
    {
        Id = id, MaterialId = MadeShop.MaterialId, Length = MadeShop.Mm(length), Width = MadeShop.Mm(width),
        Thickness = MadeShop.Mm(thickness), Quantity = pieces,
    };
}
