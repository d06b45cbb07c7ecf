using Nest.Core.Cutting;

namespace Nest.Output.Sheets;

/// <summary>Steps that are the same movement again and again, told once: <c>12 ×</c>. Behind the last one something else may be left.</summary>
/// <param name="Steps">One or more steps.</param>
internal sealed record StepRow(IReadOnlyList<CutStep> Steps)
{
    public CutStep First => Steps[0];

    public CutStep Last => Steps[^1];

    /// <summary>The pieces of metal that the row cuts one after the other, each as it comes to the saw.</summary>
    public IReadOnlyList<Workpiece> Metals => [.. Steps.Where((step, at) => at == 0 || !step.StillOnSaw).Select(step => step.OnSaw)];

    /// <summary>The same cuts in each of several strips of one size, from the pile one after the other; else all cuts are in one piece of
    /// metal.</summary>
    public bool InStrips => Steps.Skip(1).Any(step => !step.StillOnSaw);

    public string Numbers => Ranges.Text(First.Number, Last.Number);

    /// <summary>Joins consecutive steps that read alike. O(steps).</summary>
    public static List<StepRow> Of(CutSequence sequence)
    {
        var rows = new List<StepRow>();
        var run = new List<CutStep>();
        foreach (var step in sequence.Steps)
        {
            if (run.Count > 0 && !Alike(run[^1], step))
            {
                Close();
            }

            run.Add(step);
        }

        if (run.Count > 0)
        {
            Close();
        }

        return rows;

        void Close()
        {
            var row = new StepRow([.. run]);
            run.Clear();
            if (rows.Count > 0 && SameInNextStrip(rows[^1], row))
            {
                rows[^1] = new([.. rows[^1].Steps, .. row.Steps]);
                return;
            }

            rows.Add(row);
        }
    }

    /// <summary>What came off in a step: everything that does not stay to be cut in the next.</summary>
    public static IEnumerable<Workpiece> Off(CutStep step) => step.Yields.Where(piece => piece.To != Destination.Saw);

    /// <summary>Whether two pieces of metal are told in one line: a leftover to keep has a mark of its own.</summary>
    public static bool SameFate(Workpiece a, Workpiece b) =>
        a.Kind == b.Kind && a.To == b.To && a.PartId == b.PartId && a.Spare == b.Spare && a.Kind is not (WorkKind.Remnant or WorkKind.Stock) && SameSize(a, b);

    // The sawyer must be told of a cut that takes only the blade's width, so it has a row of its own.
    private static bool Alike(CutStep a, CutStep b) =>
        !b.NewSetting && !b.Turn && SameMove(a, b) && b.StillOnSaw && a.OnSaw.Name == b.OnSaw.Name
        && a.Yields.Length <= b.Yields.Length && Holds(Off(b), Off(a));

    private static bool SameMove(CutStep a, CutStep b) =>
        a.Purpose == b.Purpose && a.Direction == b.Direction && a.Against == b.Against && a.Measure == b.Measure && a.Marked == b.Marked
        && a.OnSaw.Kind == b.OnSaw.Kind;

    // The next strip of the same size, if it is cut by the same movements and leaves nothing on the saw.
    private static bool SameInNextStrip(StepRow before, StepRow row)
    {
        var (a, b) = (before.Steps.Skip(before.Steps.Count - row.Steps.Count).ToArray(), row.Steps);
        return row.Steps.Count <= before.Steps.Count && !row.First.NewSetting && !row.First.StillOnSaw && row.First.OnSaw.Kind == WorkKind.Strip
            && !a[0].StillOnSaw && SameSize(a[0].OnSaw, b[0].OnSaw)
            && a.Zip(b).All(pair => SameMove(pair.First, pair.Second) && pair.First.Yields.Length == pair.Second.Yields.Length
                && Off(pair.First).Count() == Off(pair.Second).Count() && Holds(Off(pair.Second), Off(pair.First)))
            && Off(a[^1]).Count() == a[^1].Yields.Length && Off(b[^1]).Count() == b[^1].Yields.Length;
    }

    // Whether each of the second is among the first.
    private static bool Holds(IEnumerable<Workpiece> pieces, IEnumerable<Workpiece> wanted)
    {
        var left = pieces.ToList();
        return wanted.All(piece => left.FindIndex(one => SameFate(piece, one)) is var at and >= 0 && Take(at));

        bool Take(int at)
        {
            left.RemoveAt(at);
            return true;
        }
    }

    private static bool SameSize(Workpiece a, Workpiece b) => a.Area.SizeX == b.Area.SizeX && a.Area.SizeY == b.Area.SizeY;
}
