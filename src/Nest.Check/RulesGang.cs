using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Check;

/// <summary>Blanks from which several parts are milled: just so many parts as the job asks for, as the part's rule and the mill allow.</summary>
internal static class RulesGang
{
    /// <summary>The part with the sizes of its whole block.</summary>
    public static Part Block(Part part)
    {
        if (part.Gang is not { } gang)
        {
            return part;
        }

        var (length, width) = (part.Length, part.Width);
        for (var column = 1; column < gang.Columns; column++)
        {
            length += part.Length + (part.PerBlank?.Gap ?? Length.Zero);
        }

        for (var row = 1; row < gang.Rows; row++)
        {
            width += part.Width + (part.PerBlank?.Gap ?? Length.Zero);
        }

        return part with { Length = length, Width = width };
    }

    /// <summary>Where a part may be milled several at once all that the mill takes off counts, and each blank's clamping.</summary>
    /// <param name="metal">Of the blank as it is sawn, in cubic centimetres.</param>
    public static ExpectedBlank Whole(Job job, Part part, ExpectedBlank blank, decimal metal, Func<decimal, Money> milling)
    {
        if (part.PerBlank is null)
        {
            return blank;
        }

        var parts = part.Gang is { } gang ? gang.Rows * gang.Columns : 1;
        var finished = (part.Length * part.Width).ToSquareCentimetres() * (part.Thickness.Nanometres / 10_000_000m) * parts;
        var clamping = Amounts.Nearest(job.Mill.BlankMinutes * job.Mill.HourlyRate / 60m);
        var settingUp = part.Gang is { Rest: true } ? Amounts.Nearest(job.Fuss.FurtherSizeMinutes * job.Mill.HourlyRate / 60m) : Money.Zero;
        return blank with { Facing = milling(metal - finished) + clamping + settingUp };
    }

    /// <summary>Numbers, sums and sizes of all gang blanks.</summary>
    public static void Sound(PlanFacts facts)
    {
        var job = facts.Job;
        foreach (var part in job.Parts.Where(part => part.PerBlank is not null || part.Gang is not null))
        {
            var where = $"part {part.Id}";
            if (part.PerBlank is not { } rule)
            {
                facts.Add("gang", where, "its blanks are for several parts, which it does not allow");
                continue;
            }

            if (part.Round || part.Detail is not null || part.Ends is not null)
            {
                facts.Add("gang", where, "only flat parts with square ends are milled several from one blank");
            }

            if (part.Gang is { } gang)
            {
                One(facts, part, rule, gang, where);
            }
        }

        var stays = Stays(facts);
        foreach (var group in job.Parts.Where(part => part.Gang is not null).SelectMany(part => part.Gang!.Members.Select(member => (member, part)))
            .GroupBy(entry => entry.member.Part, StringComparer.Ordinal))
        {
            var where = $"part {group.Key}";
            var asked = group.First().member.Asked;
            if (group.Any(entry => entry.member.Asked != asked) || group.Sum(entry => (long)entry.member.Count * entry.part.Gang!.Blanks) != asked)
            {
                facts.Add("gang-count", where, $"{group.Sum(entry => (long)entry.member.Count * entry.part.Gang!.Blanks)} come from gang blanks, {asked} are asked for");
            }

            if (job.Parts.Any(part => part.Gang is null && part.Id == group.Key))
            {
                facts.Add("gang-count", where, "it has gang blanks, and blanks of its own beside them");
            }

            // Of whole blanks there is one kind: the rest is smaller. What stays of an earlier plan may be another.
            var chosen = group.Where(entry => !stays.Contains(entry.part.Id)).Select(entry => entry.part.Gang!).ToList();
            var largest = chosen.Select(gang => gang.Rows * gang.Columns).DefaultIfEmpty().Max();
            if (chosen.Exists(gang => !gang.Rest && gang.Rows * gang.Columns != largest && gang.Members.Length == chosen[0].Members.Length))
            {
                facts.Add("gang-count", where, "its whole blanks carry different numbers");
            }
        }
    }

    /// <summary>Kinds of blanks that lie in layouts of an earlier plan alone.</summary>
    private static HashSet<string> Stays(PlanFacts facts)
    {
        var made = facts.Plan.Layouts.Where(layout => !layout.Kept).SelectMany(layout => layout.Pieces).Select(piece => piece.PartId)
            .Concat(facts.Plan.Unplaced.Select(entry => entry.PartId)).ToHashSet(StringComparer.Ordinal);
        return [.. facts.Plan.Layouts.Where(layout => layout.Kept).SelectMany(layout => layout.Pieces).Select(piece => piece.PartId).Where(id => !made.Contains(id))];
    }

    private static void One(PlanFacts facts, Part part, PerBlank rule, Gang gang, string where)
    {
        if (gang.Rows < 1 || gang.Columns < 1 || gang.Blanks < 1 || gang.Members.Length is < 1 or > 2 || gang.Members.Any(member => member.Count < 1 || member.Asked < 1))
        {
            facts.Add("gang", where, "a number of its gang blanks is below 1");
            return;
        }

        var count = gang.Rows * gang.Columns;
        if (gang.Members.Sum(member => member.Count) != count || (gang.Members.Length == 2
            && (gang.Members[0].Count != gang.Members[1].Count || !gang.Members[1].Part.Equals(rule.With, StringComparison.OrdinalIgnoreCase))))
        {
            facts.Add("gang-count", where, $"{gang.Rows} × {gang.Columns} places do not hold what its members say");
        }

        if (gang.Members[0].Asked != ((long)part.Quantity * facts.Job.Batch) + part.Extra)
        {
            facts.Add("gang-count", where, $"its blanks are for {gang.Members[0].Asked} parts, asked are {((long)part.Quantity * facts.Job.Batch) + part.Extra}");
        }

        if (rule.Counts.Length > 0 && (count > rule.Counts.Max() || (!gang.Rest && !rule.Counts.Contains(count) && Could(facts.Job, part, rule, gang))))
        {
            facts.Add("gang-number", where, $"{count} from one blank are not allowed");
        }

        if (count > 1 && !Held(facts.Job, part))
        {
            facts.Add("gang-size", where, "its blank is larger than the vise or the travel of the mill");
        }
    }

    /// <summary>Whether one of the allowed numbers could be milled at once: only where none can, another one stands in.</summary>
    private static bool Could(Job job, Part part, PerBlank rule, Gang gang) => rule.Counts.Any(count =>
        count <= gang.Members.Sum(member => (long)member.Asked) && (gang.Members.Length == 1 || count % 2 == 0)
        && Enumerable.Range(1, count).Any(rows => count % rows == 0 && Held(job, part with { Gang = gang with { Rows = rows, Columns = count / rows } })));

    private static bool Held(Job job, Part part)
    {
        var clean = ExpectedBlanks.CleanUp(job, part);
        var block = Block(part);
        var (one, two) = (block.Length + clean + clean, block.Width + clean + clean);
        var (longer, shorter) = one < two ? (two, one) : (one, two);
        return !(longer > job.Mill.TravelX) && !(shorter > job.Mill.TravelY) && !(part.Holding is Holding.Vise or Holding.SoftJaws && shorter > job.Mill.ViseOpening);
    }
}
