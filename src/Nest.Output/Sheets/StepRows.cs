using Nest.Core.Cutting;

namespace Nest.Output.Sheets;

/// <summary>Steps that are the same movement again and again, told once: <c>12 ×</c>.</summary>
/// <param name="Steps">One or more steps.</param>
internal sealed record StepRow(IReadOnlyList<CutStep> Steps)
{
    public CutStep First => Steps[0];

    public CutStep Last => Steps[^1];

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
        !b.NewSetting && !b.Turn && b.StillOnSaw && a.Purpose == b.Purpose && a.Direction == b.Direction && a.Against == b.Against
        && a.Measure == b.Measure && a.OnSaw.Kind == b.OnSaw.Kind && a.OnSaw.Name == b.OnSaw.Name
        && SameFate(Off(a), Off(b));

    /// <summary>What came off in a step: everything that does not stay to be cut in the next.</summary>
    public static IEnumerable<Workpiece> Off(CutStep step) => step.Yields.Where(piece => piece.To != Destination.Saw);

    private static bool SameFate(IEnumerable<Workpiece> a, IEnumerable<Workpiece> b)
    {
        // The last cut of a row may yield one thing more (what remains): that is told in its own row only when it is no scrap.
        var first = a.ToArray();
        var second = b.ToArray();
        return first.Length == second.Length
            && first.Zip(second).All(pair => pair.First.Kind == pair.Second.Kind && pair.First.To == pair.Second.To && pair.First.PartId == pair.Second.PartId
                && pair.First.Kind is not (WorkKind.Remnant or WorkKind.Strip) && pair.First.Area.SizeX == pair.Second.Area.SizeX
                && pair.First.Area.SizeY == pair.Second.Area.SizeY);
    }
}
