namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Takes whole sheets, or parts of the trees of cuts, out of the changed copy of a plan.</summary>
internal static class Ruin
{
    /// <summary>Sheets that are few: all pieces of a kind may be taken of them at once.</summary>
    public const int FewSheets = 4;

    public static void Some(ThroughModel model, TrialPlan plan, ref RandomSource random)
    {
        if (plan.Trial.Count == 0)
        {
            return;
        }

        var kind = random.Below(10);
        if (kind < 3)
        {
            var sheets = 1 + random.Below(Math.Min(3, plan.Trial.Count));
            for (var r = 0; r < sheets && plan.Trial.Count > 0; r++)
            {
                plan.Drop(random.Below(plan.Trial.Count));
            }
        }
        else
        {
            var cuts = 1 + random.Below(kind < 7 ? 4 : 10);
            for (var r = 0; r < cuts && plan.Trial.Count > 0; r++)
            {
                Take(model, plan, random.Below(plan.Trial.Count), ref random);
            }
        }
    }

    /// <summary>A few parts of trees, seldom a whole sheet: small steps from a good plan.</summary>
    public static void Few(ThroughModel model, TrialPlan plan, ref RandomSource random)
    {
        if (random.Below(50) == 0 && plan.Trial.Count > 0)
        {
            plan.Drop(random.Below(plan.Trial.Count));
        }

        for (var cuts = 1 + random.Below(4); cuts > 0 && plan.Trial.Count > 0; cuts--)
        {
            Take(model, plan, random.Below(plan.Trial.Count), ref random);
        }
    }

    /// <summary>All pieces of one kind on one sheet, or on all where these are few.</summary>
    public static void Kind(ThroughModel model, TrialPlan plan, ref RandomSource random)
    {
        if (plan.Trial.Count == 0)
        {
            return;
        }

        var at = random.Below(plan.Trial.Count);
        var nodes = plan.Trial[at].Nodes;
        var item = -1;
        for (var tries = 0; tries < 8 && item < 0; tries++)
        {
            item = nodes[random.Below(nodes.Length)].Item;
        }

        if (item < 0)
        {
            return;
        }

        var all = plan.Trial.Count <= FewSheets && random.Below(2) == 0;
        for (var index = all ? plan.Trial.Count - 1 : at; index >= (all ? 0 : at); index--)
        {
            TakeAll(model, plan, index, item);
        }
    }

    private static void TakeAll(ThroughModel model, TrialPlan plan, int index, int item)
    {
        var sheet = plan.Trial[index];
        for (var n = 0; n < sheet.Nodes.Length; n++)
        {
            if (sheet.Nodes[n].Item == item)
            {
                sheet = plan.Own(index);
                var before = plan.Taken.Count;
                sheet.Take(model, n, plan.Taken);
                plan.TookOut(sheet.Stock, before);
            }
        }

        if (sheet.Pieces == 0)
        {
            plan.Drop(index);
        }
    }

    private static void Take(ThroughModel model, TrialPlan plan, int index, ref RandomSource random)
    {
        var sheet = plan.Own(index);
        if (sheet.Pieces == 0)
        {
            return;
        }

        var node = -1;
        for (var tries = 0; tries < 8; tries++)
        {
            var n = random.Below(sheet.Nodes.Length);
            var kind = sheet.Nodes[n].Item;
            if (kind >= 0 || (kind == SheetNode.Split && !sheet.Nodes[n].Region))
            {
                node = n;
                break;
            }
        }

        if (node < 0)
        {
            return;
        }

        // Upwards by chance: larger parts of the tree make larger holes.
        while (!sheet.Nodes[node].Region && !sheet.Nodes[sheet.Nodes[node].Parent].Region && random.Below(4) == 0)
        {
            node = sheet.Nodes[node].Parent;
        }

        var before = plan.Taken.Count;
        if (!sheet.Nodes[node].Region)
        {
            // Brothers with it: in a set of parallel cuts their order is free, so their room joins.
            for (var more = random.Below(3); more > 0; more--)
            {
                var brother = sheet.Nodes[sheet.Nodes[node].Parent].FirstChild;
                for (var skip = random.Below(4); skip > 0 && brother >= 0; skip--)
                {
                    brother = sheet.Nodes[brother].Next;
                }

                if (brother >= 0 && brother != node && (sheet.Nodes[brother].Item is >= 0 or SheetNode.Split) && !sheet.Nodes[brother].Region)
                {
                    sheet.Take(model, brother, plan.Taken);
                }
            }
        }

        sheet.Take(model, node, plan.Taken);
        plan.TookOut(sheet.Stock, before);
        if (sheet.Pieces == 0)
        {
            plan.Drop(index);
        }
    }
}
