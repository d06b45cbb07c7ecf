namespace Nest.Solve.Plates.ThroughCut;

/// <summary>The rules of the saw on one sheet: stages, trimming cut, first cut, largest cut, shortest held.</summary>
/// <remarks>Checked where a cut is made; taking out pieces only widens rests and so never breaks them.</remarks>
internal static class SheetRules
{
    /// <summary>Whether all cuts obey the rules of the saw.</summary>
    public static bool Obey(ThroughModel model, SheetTree nodes)
    {
        for (var n = 0; n < nodes.Count; n++)
        {
            ref var node = ref nodes[n];
            if (node.Item != SheetNode.Split)
            {
                continue;
            }

            var pieces = 0;
            var others = 0;
            long longest = 0;
            for (var c = node.FirstChild; c >= 0; c = nodes[c].Next)
            {
                pieces += nodes[c].Item >= 0 ? 1 : 0;
                others += nodes[c].Item == SheetNode.Split ? 1 : 0;
                longest = Math.Max(longest, node.Direction == CutSheet.Across ? nodes[c].Width : nodes[c].Height);
            }

            if ((node.Level > model.Stages && !(model.Trimming && node.Level == model.Stages + 1 && pieces == 1 && others == 0))
                || (node.Level == 1 && model.First >= 0 && model.First != node.Direction)
                || (node.Direction == CutSheet.Across ? node.Height : node.Width) - model.Kerf > model.LargestCut
                || longest - model.Kerf < model.ShortestHeld)
            {
                return false;
            }
        }

        return true;
    }

    /// <summary>Whether a piece may be put into the corner of a rest with the given cut first, under all rules of the saw.</summary>
    public static bool Allowed(ThroughModel model, SheetTree nodes, int leaf, long width, long height, byte direction)
    {
        ref var node = ref nodes[leaf];
        var parent = node.Region ? -1 : node.Parent;
        var level = node.Parent < 0 ? 0 : nodes[node.Parent].Level;
        if (level > model.Stages)
        {
            return false; // beside a piece that a trimming cut set free lies only waste
        }

        var dx = node.Width - width;
        var dy = node.Height - height;
        if (dx == 0 && dy == 0)
        {
            return true;
        }

        var (first, second) = direction == CutSheet.Across ? (dx, dy) : (dy, dx);
        if (first > 0)
        {
            var joins = parent >= 0 && nodes[parent].Direction == direction;
            if (!joins)
            {
                level++;
                if ((level == 1 && model.First >= 0 && model.First != direction)
                    || (direction == CutSheet.Across ? node.Height : node.Width) - model.Kerf > model.LargestCut)
                {
                    return false;
                }
            }

            if (model.ShortestHeld > 0 && !Held(model, nodes, joins ? parent : -1, leaf, direction, direction == CutSheet.Across ? width : height, first))
            {
                return false;
            }
        }

        if (second > 0)
        {
            if (level > model.Stages)
            {
                return false; // a trimming cut is the last
            }

            var other = (byte)(1 - direction);
            level++;
            if ((level == 1 && model.First >= 0 && model.First != other)
                || (direction == CutSheet.Across ? width : height) - model.Kerf > model.LargestCut
                || (model.ShortestHeld > 0 && Math.Max(direction == CutSheet.Across ? height : width, second) - model.Kerf < model.ShortestHeld))
            {
                return false;
            }
        }

        return level <= model.Stages || (level == model.Stages + 1 && model.Trimming);
    }

    private static bool Held(ThroughModel model, SheetTree nodes, int parent, int leaf, byte direction, long part, long rest)
    {
        var longest = Math.Max(part, rest);
        if (parent >= 0)
        {
            for (var c = nodes[parent].FirstChild; c >= 0; c = nodes[c].Next)
            {
                if (c != leaf)
                {
                    longest = Math.Max(longest, direction == CutSheet.Across ? nodes[c].Width : nodes[c].Height);
                }
            }
        }

        return longest - model.Kerf >= model.ShortestHeld;
    }
}
