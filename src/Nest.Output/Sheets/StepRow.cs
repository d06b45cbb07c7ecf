using Nest.Core.Cutting;

namespace Nest.Output.Sheets;

/// <summary>Steps that are the same movement again and again, told once: <c>12 ×</c>.</summary>
/// <param name="Steps">One or more steps.</param>
internal sealed record StepRow(IReadOnlyList<CutStep> Steps)
{
    public CutStep First => Steps[0];

    public CutStep Last => Steps[^1];

    /// <summary>One cut in each of several strips of one size, from the pile one after the other; else all cuts are in one piece of
    /// metal.</summary>
    public bool InStrips => Steps.Count > 1 && !Steps[1].StillOnSaw;

    public string Numbers => Steps.Count == 1
        ? SheetContext.Text(First.Number)
        : $"{SheetContext.Text(First.Number)}–{SheetContext.Text(Last.Number)}";

    /// <summary>Joins consecutive steps that read alike.</summary>
    public static List<StepRow> Of(CutSequence sequence)
    {
        var rows = new List<StepRow>();
        var run = new List<CutStep>();
        foreach (var step in sequence.Steps)
        {
            if (run.Count > 0 && !Alike(run[^1], step))
            {
                rows.Add(new([.. run]));
                run.Clear();
            }

            run.Add(step);
        }

        if (run.Count > 0)
        {
            rows.Add(new([.. run]));
        }

        return rows;
    }

    private static bool Alike(CutStep a, CutStep b) =>
        !b.NewSetting && !b.Turn && a.Purpose == b.Purpose && a.Direction == b.Direction && a.Against == b.Against
        && a.Measure == b.Measure && a.Marked == b.Marked && a.OnSaw.Kind == b.OnSaw.Kind
        && (b.StillOnSaw ? a.OnSaw.Name == b.OnSaw.Name : InLikeStrips(a, b)) && SameFate(Off(a), Off(b));

    // Strips are cut in a row when nothing of them stays on the saw.
    private static bool InLikeStrips(CutStep a, CutStep b) =>
        !a.StillOnSaw && a.OnSaw.Kind == WorkKind.Strip && SameSize(a.OnSaw, b.OnSaw)
        && Off(a).Count() == a.Yields.Length && Off(b).Count() == b.Yields.Length;

    /// <summary>What came off in a step: everything that does not stay to be cut in the next.</summary>
    public static IEnumerable<Workpiece> Off(CutStep step) => step.Yields.Where(piece => piece.To != Destination.Saw);

    // A leftover to keep has a mark of its own: it is told in a row of its own. Strips are told by their letters.
    private static bool SameFate(IEnumerable<Workpiece> a, IEnumerable<Workpiece> b)
    {
        var first = a.ToArray();
        var second = b.ToArray();
        return first.Length == second.Length
            && first.Zip(second).All(pair => pair.First.Kind == pair.Second.Kind && pair.First.To == pair.Second.To && pair.First.PartId == pair.Second.PartId
                && pair.First.Kind is not (WorkKind.Remnant or WorkKind.Stock) && SameSize(pair.First, pair.Second));
    }

    private static bool SameSize(Workpiece a, Workpiece b) => a.Area.SizeX == b.Area.SizeX && a.Area.SizeY == b.Area.SizeY;
}
