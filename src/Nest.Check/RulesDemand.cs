namespace Nest.Check;

/// <summary>All pieces that are asked for are there, and no more.</summary>
internal static class RulesDemand
{
    /// <summary>Placed + unplaced = asked, for every part; free spares are not asked for.</summary>
    public static void Met(PlanFacts facts)
    {
        var placed = new Dictionary<string, long>(StringComparer.Ordinal);
        foreach (var layout in facts.Plan.Layouts)
        {
            foreach (var piece in layout.Pieces.Where(piece => !piece.Spare))
            {
                placed[piece.PartId] = placed.GetValueOrDefault(piece.PartId) + layout.Count;
            }
        }

        var unplaced = new Dictionary<string, long>(StringComparer.Ordinal);
        foreach (var entry in facts.Plan.Unplaced)
        {
            unplaced[entry.PartId] = unplaced.GetValueOrDefault(entry.PartId) + entry.Count;
        }

        foreach (var part in facts.Parts.Values)
        {
            var asked = part.Gang is { } gang ? gang.Blanks : ((long)part.Quantity * facts.Job.Batch) + part.Extra;
            var there = placed.GetValueOrDefault(part.Id);
            var missing = unplaced.GetValueOrDefault(part.Id);
            var where = $"part {part.Id}";
            if (there > asked)
            {
                facts.Add("more-than-asked", where, $"{there - asked} pieces too many: {there} placed, {asked} asked");
            }
            else if (there + missing < asked)
            {
                facts.Add("demand-not-met", where, $"{asked - there - missing} of {asked} pieces are neither placed nor named as unplaced");
            }
            else if (there + missing > asked)
            {
                facts.Add("unplaced-count", where, $"{missing} pieces are named as unplaced, but {asked - there} are missing");
            }
        }
    }

    /// <summary>Unplaced pieces are of a part of the job, at least one, with a reason.</summary>
    public static void UnplacedNamed(PlanFacts facts)
    {
        foreach (var entry in facts.Plan.Unplaced)
        {
            var where = $"unplaced {entry.PartId}";
            if (!facts.Parts.ContainsKey(entry.PartId))
            {
                facts.Add("unknown-part", where, $"the job has no part {entry.PartId}");
            }

            if (entry.Count < 1)
            {
                facts.Add("unplaced-count", where, $"{entry.Count} pieces cannot be missing");
            }

            if (string.IsNullOrWhiteSpace(entry.Reason))
            {
                facts.Add("unplaced-reason", where, "no reason is given");
            }
        }
    }
}
