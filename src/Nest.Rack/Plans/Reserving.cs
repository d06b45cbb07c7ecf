using System.Globalization;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Racks;
using Nest.Rack.Database;
using Nest.Rack.History;
using Nest.Rack.Pieces;

namespace Nest.Rack.Plans;

/// <summary>Entering, reserving, cancelling and replacing plans.</summary>
internal static class Reserving
{
    /// <summary>Enters a plan without reserving anything.</summary>
    public static long Enter(ChangeSet change, Plan plan, long? continues, bool again)
    {
        if (plan.Layouts.IsEmpty)
        {
            throw RackException.Refused("the plan cuts nothing", "plan first");
        }

        var fingerprint = Fingerprint.OfCutting(plan);
        if (!again && Twin(change.Db, fingerprint) is { } twin)
        {
            throw RackException.Refused(
                $"this very plan is on the rack already, as {PlanNumber.Format(twin)}", "cut that one; to make the same batch once more, say --again");
        }

        Materials.Learn(change, plan.Job.Materials.Where(material => plan.Layouts.Any(
            layout => string.Equals(plan.StockOf(layout).MaterialId, material.Id, StringComparison.OrdinalIgnoreCase))));
        var planId = change.Insert(
            "plan", ("name", plan.Job.Name), ("state", (long)PlanState.Planned), ("created", change.At), ("fingerprint", fingerprint), ("continues", continues));
        var serving = continues is { } earlier
            ? ChangeOrder.Of(change.Db, earlier, plan.Job).ToDictionary(part => part.PartId, part => part.Serving, StringComparer.OrdinalIgnoreCase)
            : [];
        foreach (var part in plan.Job.Parts)
        {
            var wanted = plan.Job.DemandOf(part);
            change.Insert(
                "demand", ("plan_id", planId), ("part", part.Id), ("wanted", (long)wanted),
                ("body", PartShape.Of(part).ToJson(wanted + serving.GetValueOrDefault(part.Id), StoredGang.Of(part, serving))));
        }

        foreach (var layout in plan.Layouts)
        {
            var stock = plan.StockOf(layout);
            long? pieceId = stock.RackMark is { } mark ? PieceRows.Find(change.Db, mark).Id : null;
            if (pieceId is not null && layout.Count != 1)
            {
                throw RackException.Refused($"layout {layout.Number} cuts the leftover {stock.RackMark} {layout.Count} times", "check the plan: there is one");
            }

            change.Insert(
                "layout", ("plan_id", planId), ("number", (long)layout.Number), ("piece_id", pieceId), ("count", (long)layout.Count),
                ("cut", 0L), ("lost", 0L), ("blueprint", Blueprint.Of(plan, layout).ToJson()));
        }

        Purchases.Enter(change, planId, plan);
        return planId;
    }

    /// <summary>Takes the plan's leftovers for it alone, all or none.</summary>
    public static int Reserve(ChangeSet change, long planId)
    {
        var state = PlanRows.StateOf(change.Db, planId);
        if (state != PlanState.Planned)
        {
            throw RackException.Refused($"{PlanNumber.Format(planId)} is {Word(state)}, not planned", "reserve a new plan");
        }

        var problems = new List<string>();
        var taken = 0;
        foreach (var layout in PlanRows.Layouts(change.Db, planId).Where(layout => layout.PieceId is not null))
        {
            var stored = change.Db.Query(PieceRows.Select + " WHERE piece.id = $1", PieceRows.Read, layout.PieceId!.Value)[0];
            if (Problem(stored.Piece, layout.Blueprint) is { } problem)
            {
                problems.Add(problem);
                continue;
            }

            PieceRows.Update(change, stored with { Piece = stored.Piece with { State = PieceState.Reserved, ReservedFor = planId } });
            taken++;
        }

        if (problems.Count > 0)
        {
            throw RackException.Refused(string.Join("; ", problems), "plan again with the rack as it is now");
        }

        change.Update("plan", planId, ("state", (long)PlanState.Reserved));
        return taken;
    }

    /// <summary>Frees what the plan has reserved and not cut, and says where the plan is in its life now.</summary>
    public static int Release(ChangeSet change, long planId, PlanState after)
    {
        var freed = 0;
        foreach (var piece in change.Db.Query(
            string.Create(CultureInfo.InvariantCulture, $"{PieceRows.Select} WHERE piece.plan_id = $1 AND piece.state = {(int)PieceState.Reserved} ORDER BY piece.id"),
            PieceRows.Read, planId))
        {
            PieceRows.Update(change, piece with { Piece = piece.Piece with { State = PieceState.OnRack, ReservedFor = null } });
            freed++;
        }

        change.Update("plan", planId, ("state", (long)after));
        return freed;
    }

    public static void RefuseEnded(Db db, long planId)
    {
        var state = PlanRows.StateOf(db, planId);
        if (state is PlanState.Finished or PlanState.Cancelled or PlanState.Replaced)
        {
            throw RackException.Refused($"{PlanNumber.Format(planId)} is {Word(state)}", "see 'nest plans'");
        }
    }

    /// <summary>A plan that was given up may still be gone on with: what it made counts.</summary>
    /// <param name="changed">So may one that is all cut, where its job was changed since.</param>
    public static void RefuseWithoutRest(Db db, long planId, bool changed)
    {
        var state = PlanRows.StateOf(db, planId);
        if (state == PlanState.Finished && !changed)
        {
            throw RackException.Refused($"{PlanNumber.Format(planId)} is finished", "where the job was changed since and more is to be made, say --changed");
        }

        if (state is not (PlanState.Cancelled or PlanState.Finished))
        {
            RefuseEnded(db, planId);
        }
    }

    /// <summary>Refuses a plan that makes just what another, begun, has not made: entered as one of its own, both would be missing it.</summary>
    public static void RefuseRest(Db db, Plan plan)
    {
        var named = StoredGang.Named(plan.Job);
        var wanted = named.Parts.ToDictionary(part => part.Id, named.DemandOf, StringComparer.OrdinalIgnoreCase);
        foreach (var other in PlanRows.All(db).Where(other => other.Name == plan.Job.Name && other.State is not (PlanState.Finished or PlanState.Replaced)))
        {
            var gangs = PlanRows.Wanted(db, other.Id).ToDictionary(part => part.PartId, part => part.Told?.Gang, StringComparer.OrdinalIgnoreCase);
            var parts = PlanRows.Parts(db, other.Id);
            var missing = parts.Where(part => part.Missing > 0)
                .SelectMany(part => gangs[part.PartId] is { } gang ? gang.Members.Select(member => (PartId: member.Part, Missing: member.Count * part.Missing)) : [(part.PartId, part.Missing)])
                .GroupBy(part => part.PartId, part => part.Missing, StringComparer.OrdinalIgnoreCase).ToList();
            if (parts.Exists(part => part.Made > 0) && missing.Count == wanted.Count
                && missing.TrueForAll(part => wanted.GetValueOrDefault(part.Key) == part.Sum()))
            {
                throw RackException.Refused(
                    $"this plan makes just what {other.Number} has not made yet",
                    $"as its rest: 'nest replan {other.Number} PLAN-FILE'; for a batch of its own say --again");
            }
        }
    }

    public static string Word(PlanState state) => state switch
    {
        PlanState.Incomplete => "cut, with parts missing",
        _ => state.ToString().ToLowerInvariant(),
    };

    public static long? Twin(Db db, string fingerprint)
    {
        var twins = db.Query(
            string.Create(CultureInfo.InvariantCulture, $"SELECT id FROM plan WHERE fingerprint = $1 AND state NOT IN ({(int)PlanState.Cancelled}, {(int)PlanState.Replaced}) ORDER BY id DESC LIMIT 1"),
            row => row.GetInt64(0), fingerprint);
        return twins.Count == 0 ? null : twins[0];
    }

    private static string? Problem(RackPiece piece, Blueprint blueprint)
    {
        var planned = blueprint.Stock;
        if (piece.State == PieceState.Reserved)
        {
            return $"{piece.Mark} is reserved for {PlanNumber.Format(piece.ReservedFor ?? 0)}";
        }

        if (piece.State != PieceState.OnRack)
        {
            return $"{piece.Mark} is {piece.State.ToString().ToLowerInvariant()}";
        }

        var now = piece.ToStock(planned.PiecePrice);
        return !Same(now, planned)
            ? $"{piece.Mark} was changed since the plan was made"
            : blueprint.PartOn(piece.KeepOuts) is { } part ? $"{piece.Mark} has a keep-out where the plan has {part}" : null;
    }

    private static bool Same(Stock a, Stock b) =>
        a.Form == b.Form && string.Equals(a.MaterialId, b.MaterialId, StringComparison.OrdinalIgnoreCase)
        && (a.Length, a.Width, a.Thickness) == (b.Length, b.Width, b.Thickness)
        && (a.MinLength, a.MinWidth, a.MinThickness) == (b.MinLength, b.MinWidth, b.MinThickness)
        && a.CleanEdges == b.CleanEdges && a.GoodFaces == b.GoodFaces;
}
