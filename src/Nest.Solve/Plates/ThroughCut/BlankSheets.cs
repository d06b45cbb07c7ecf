namespace Nest.Solve.Plates.ThroughCut;

/// <summary>The empty sheets of a kind of plate: one, or with keep-outs several ways to cut round them.</summary>
/// <remarks>Every node that holds a keep-out is cut at one of its four edges (the kerf may run through the keep-out) until each part
/// is free or useless; the best partitions by the sum of squared free areas are kept. Heuristic: a layout may also leave a keep-out
/// inside a natural offcut, which these partitions contain only where an edge of the keep-out is cut along.</remarks>
internal static class BlankSheets
{
    private const int Kept = 6;
    private const int Tried = 4000;

    private sealed record Open(int Leaf, long X, long Y);

    public static CutSheet[] Of(ThroughModel model, int stock)
    {
        var root = new CutSheet(stock, model.StockWidth[stock], model.StockHeight[stock], model.LeastWidth, model.LeastHeight);
        if (model.Problem.Stocks[stock].KeepOuts.IsDefaultOrEmpty)
        {
            return [root];
        }

        var found = new List<(double Score, CutSheet Sheet)>();
        var tried = 0;
        Expand(model, root, [new Open(0, 0, 0)], found, ref tried);
        var best = found.OrderByDescending(f => f.Score).Select(f => f.Sheet).Take(Kept).ToArray();
        return best.Length > 0 ? best : [Closed(root)];
    }

    private static CutSheet Closed(CutSheet root)
    {
        root.Kill(0);
        return root;
    }

    private static void Expand(ThroughModel model, CutSheet sheet, List<Open> open, List<(double, CutSheet)> found, ref int tried)
    {
        if (++tried > Tried)
        {
            return;
        }

        if (open.Count == 0)
        {
            var score = 0.0;
            foreach (var leaf in sheet.Rests)
            {
                var node = sheet.Nodes[leaf];
                score += Math.Pow((double)node.Width * node.Height, 2);
            }

            if (score > 0)
            {
                found.Add((score, sheet));
            }

            return;
        }

        var at = open[^1];
        var rest = open[..^1];
        var area = sheet.Nodes[at.Leaf];
        var inside = model.Problem.Stocks[sheet.Stock].KeepOuts
            .Where(k => k.X < at.X + area.Width - model.Kerf && k.X + k.SizeX > at.X
                && k.Y < at.Y + area.Height - model.Kerf && k.Y + k.SizeY > at.Y)
            .ToArray();
        if (inside.Length == 0)
        {
            Expand(model, sheet, rest, found, ref tried);
            return;
        }

        if (area.Width < model.LeastWidth || area.Height < model.LeastHeight)
        {
            sheet.Kill(at.Leaf);
            Expand(model, sheet, rest, found, ref tried);
            return;
        }

        var cuts = new HashSet<(byte Direction, long Low)>();
        foreach (var keep in inside)
        {
            cuts.Add((CutSheet.Across, keep.X - at.X + model.Kerf));
            cuts.Add((CutSheet.Across, Math.Max(keep.X + keep.SizeX - at.X, model.Kerf + 1)));
            cuts.Add((CutSheet.Along, keep.Y - at.Y + model.Kerf));
            cuts.Add((CutSheet.Along, Math.Max(keep.Y + keep.SizeY - at.Y, model.Kerf + 1)));
        }

        var divided = false;
        foreach (var (direction, low) in cuts.Order())
        {
            var whole = direction == CutSheet.Across ? area.Width : area.Height;
            if (low <= model.Kerf || low >= whole || !Allowed(model, sheet, at.Leaf, direction, low, whole))
            {
                continue;
            }

            divided = true;
            var next = sheet.Clone();
            var (a, b) = next.Divide(at.Leaf, direction, low);
            var high = direction == CutSheet.Across ? new Open(b, at.X + low, at.Y) : new Open(b, at.X, at.Y + low);
            Expand(model, next, [.. rest, new Open(a, at.X, at.Y), high], found, ref tried);
        }

        if (!divided)
        {
            var dead = sheet.Clone();
            dead.Kill(at.Leaf);
            Expand(model, dead, rest, found, ref tried);
        }
    }

    private static bool Allowed(ThroughModel model, CutSheet sheet, int leaf, byte direction, long low, long whole)
    {
        var node = sheet.Nodes[leaf];
        var level = node.Parent < 0 ? 1 : sheet.Nodes[node.Parent].Level + 1;
        var length = (direction == CutSheet.Across ? node.Height : node.Width) - model.Kerf;
        return level <= model.Stages
            && (level > 1 || model.First < 0 || model.First == direction)
            && length <= model.LargestCut
            && Math.Max(low, whole - low) - model.Kerf >= model.ShortestHeld;
    }
}
