namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Packs the pieces of one sheet anew so that what is left is one large rectangle.</summary>
/// <remarks>Random orders of insertion, each piece at the spot that keeps the rests largest; best of all by (largest rest worth
/// keeping, largest rest, fewer cuts). Heuristic; the sheet's pieces and cost stay the same.</remarks>
internal static class RestGatherer
{
    public static CutSheet Gather(ThroughModel model, CutSheet sheet, int tries, int seed)
    {
        var items = new List<int>();
        foreach (ref readonly var node in sheet.Nodes)
        {
            if (node.Item >= 0)
            {
                items.Add(node.Item);
            }
        }

        var random = new RandomSource(seed);
        var best = sheet;
        var score = Score(model, sheet);
        var keys = new double[items.Count];
        var order = new int[items.Count];
        var trial = sheet.Clone();
        var blanks = model.Blank[sheet.Stock];
        for (var t = 0; t < tries; t++)
        {
            var rule = random.Below(4);
            for (var n = 0; n < order.Length; n++)
            {
                var item = items[n];
                order[n] = item;
                keys[n] = -(rule switch
                {
                    0 => model.Area[item],
                    1 => Math.Max(model.Width[item], model.Height[item]),
                    2 => model.Width[item],
                    _ => model.Height[item],
                } * (1 + (0.5 * random.Real())));
            }

            Array.Sort(keys, order);
            trial.CopyFrom(blanks[random.Below(blanks.Length)]);
            if (Pack(model, trial, order, ref random))
            {
                var now = Score(model, trial);
                if (now.CompareTo(score) > 0)
                {
                    score = now;
                    best = trial.Clone();
                }
            }
        }

        return best;
    }

    private static bool Pack(ThroughModel model, CutSheet sheet, int[] order, ref RandomSource random)
    {
        foreach (var item in order)
        {
            var plain = sheet.BestSpot(model, model.Width[item], model.Height[item], out var a);
            var b = default(Spot);
            var turned = model.Turns[item] && sheet.BestSpot(model, model.Height[item], model.Width[item], out b);
            if (!plain && !turned)
            {
                return false;
            }

            var turn = turned && (!plain || (random.Below(8) == 0 ? random.Below(2) == 0 : b.Score > a.Score));
            sheet.Put(model, turn ? b : a, item, turn);
        }

        return true;
    }

    /// <summary>Largest rest worth keeping, largest rest, fewer stages, fewer splits.</summary>
    public static (double Kept, double Largest, int Stages, int Splits) Score(ThroughModel model, CutSheet sheet)
    {
        var stock = model.Problem.Stocks[sheet.Stock];
        var (kept, largest, stages, splits) = (0.0, 0.0, 0, 0);
        foreach (ref readonly var node in sheet.Nodes)
        {
            if (node.Item == SheetNode.Rest)
            {
                var (width, height) = (node.Width - model.Kerf, node.Height - model.Kerf);
                if (width > 0 && height > 0)
                {
                    var area = (double)width * height;
                    largest = Math.Max(largest, area);
                    if (Math.Max(width, height) >= stock.KeepLong && Math.Min(width, height) >= stock.KeepShort)
                    {
                        kept = Math.Max(kept, area);
                    }
                }
            }
            else if (node.Item == SheetNode.Split)
            {
                splits--;
                stages = Math.Min(stages, -node.Level);
            }
        }

        return (kept, largest, stages, splits);
    }
}
