namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Puts equal pieces that are missing back into the changed copy of a plan as blocks of rows and columns, of shapes drawn at random.</summary>
/// <remarks>Piece by piece the largest rest is spared, which leads to stairs of short strips with a cut and a setting for nearly each of them; a block takes few of both. What finds no place as a block is
/// left for <see cref="Recreate"/>. Cost: O(shapes tried × sheets × rests).</remarks>
internal sealed class BlockRecreate(ThroughModel model)
{
    /// <summary>Shapes of a kind that are tried for which there is no room.</summary>
    private const int MostTries = 4;

    private readonly int[] _order = [.. Enumerable.Range(0, model.ItemCount)];

    /// <summary>Work done so far in steps of roughly a microsecond.</summary>
    public long Work { get; private set; }

    public void Some(TrialPlan plan, int[] limits, ref RandomSource random)
    {
        for (var n = _order.Length - 1; n > 0; n--)
        {
            var other = random.Below(n + 1);
            (_order[n], _order[other]) = (_order[other], _order[n]);
        }

        foreach (var item in _order)
        {
            for (var tries = 0; tries < MostTries && plan.TrialMissing[item] > 1; tries++)
            {
                Work += 1 + (plan.Trial.Count / 16);
                if (Draw(plan.TrialMissing[item], item, ref random) is var block && IsHeld(block) && Put(plan, limits, block, ref random))
                {
                    tries = -1;
                }
            }
        }

        plan.SumAnew();
    }

    /// <summary>Often all that is missing, as one row or one column.</summary>
    private Block Draw(int missing, int item, ref RandomSource random)
    {
        var pieces = random.Below(2) == 0 ? missing : 2 + random.Below(missing - 1);
        var columns = random.Below(3) switch { 0 => 1, 1 => pieces, _ => 1 + random.Below(pieces) };
        var turned = model.Turns[item] && random.Below(2) == 0;
        var (width, height) = turned ? (model.Height[item], model.Width[item]) : (model.Width[item], model.Height[item]);
        return new(item, turned, columns, pieces / columns, random.Below(2) == 0, width, height);
    }

    /// <summary>Whether the cuts within the block obey the saw by themselves.</summary>
    private bool IsHeld(Block block) =>
        (block.Rows == 1 || (block.Height - model.Kerf >= model.ShortestHeld && (block.RowsFirst ? block.Columns * block.Width : block.Width) - model.Kerf <= model.LargestCut))
        && (block.Columns == 1 || (block.Width - model.Kerf >= model.ShortestHeld && (block.RowsFirst ? block.Height : block.Rows * block.Height) - model.Kerf <= model.LargestCut));

    /// <summary>Whether the cuts within the block are of no later stage than the saw allows, and in the direction of its first.</summary>
    private bool ObeysStages(CutSheet sheet, in Spot spot, in Block block)
    {
        if (model.Stages >= ThroughModel.AnyDepth && model.First < 0)
        {
            return true;
        }

        ref readonly var leaf = ref sheet.Nodes[spot.Leaf];
        var last = leaf.Region ? -1 : sheet.Nodes[leaf.Parent].Direction;
        var level = leaf.Parent < 0 ? 0 : sheet.Nodes[leaf.Parent].Level;
        var (across, along) = (block.Columns * block.Width < leaf.Width, block.Rows * block.Height < leaf.Height);
        var (columns, rows) = (block.Columns > 1, block.Rows > 1);
        return (spot.Direction == CutSheet.Across ? Cut(CutSheet.Across, across) && Cut(CutSheet.Along, along) : Cut(CutSheet.Along, along) && Cut(CutSheet.Across, across))
            && (block.RowsFirst ? Cut(CutSheet.Along, rows) && Cut(CutSheet.Across, columns) : Cut(CutSheet.Across, columns) && Cut(CutSheet.Along, rows));

        bool Cut(byte direction, bool cuts)
        {
            if (cuts && direction != last)
            {
                (last, level) = (direction, level + 1);
            }

            return level <= model.Stages && (level != 1 || model.First < 0 || last < 0 || model.First == last);
        }
    }

    private bool Put(TrialPlan plan, int[] limits, Block block, ref RandomSource random)
    {
        var (width, height) = (block.Columns * block.Width, block.Rows * block.Height);
        var best = new Spot(-1, 0, double.NegativeInfinity);
        var at = -1;
        for (var s = 0; s < plan.Trial.Count; s++)
        {
            var sheet = plan.Trial[s];
            if (sheet.LargestRest >= (double)width * height && model.Fits[sheet.Stock, block.Item] && sheet.BestSpot(model, width, height, out var spot) && spot.Score > best.Score
                && ObeysStages(sheet, spot, block))
            {
                (best, at) = (spot, s);
            }
        }

        if (at < 0)
        {
            // A sheet that was taken out whole is begun again.
            var stock = random.Below(model.StockCount);
            if (!model.Fits[stock, block.Item] || plan.TrialUsed[stock] >= limits[stock] || !model.Blank[stock][0].BestSpot(model, width, height, out best)
                || !ObeysStages(model.Blank[stock][0], best, block))
            {
                return false;
            }

            at = plan.Open(model.Blank[stock][0]);
        }

        plan.Own(at).Put(best, block);
        for (var n = block.Columns * block.Rows; n > 0; n--)
        {
            plan.PutOn(plan.Trial[at].Stock, block.Item);
        }

        return true;
    }
}

/// <summary>Equal pieces in rows and columns.</summary>
/// <param name="RowsFirst">Whether the rows are cut apart before the columns.</param>
/// <param name="Width">Inflated size of a piece as it lies.</param>
internal readonly record struct Block(int Item, bool Turned, int Columns, int Rows, bool RowsFirst, long Width, long Height);
