namespace Nest.Core.Solids;

/// <summary>A body's shadow on a grid of cells, row by row.</summary>
/// <param name="Cell">Side of a cell, mm.</param>
/// <param name="Runs">Rows from below, each with its runs of covered cells: from the first to before the last.</param>
public sealed record Shadow(int Columns, int Rows, double Cell, IReadOnlyList<(int Row, int From, int To)> Runs)
{
    /// <summary>Covered share of the box.</summary>
    public double Share => Runs.Sum(run => (double)(run.To - run.From)) / ((double)Columns * Rows);

    /// <summary>The shadow on two axes of the box that the body lies in.</summary>
    /// <remarks>Each patch of the surface is filled by the rows' middle lines, inside where an odd number of its sides lies to the left.
    /// Cost: patches + cells.</remarks>
    /// <param name="across">Number of the box's axis that points to the right.</param>
    /// <param name="up">Number of its axis that points up.</param>
    /// <param name="most">Cells along the longer side.</param>
    public static Shadow Of(Body body, SolidBox box, int across, int up, int most)
    {
        Vec3[] axes = [box.X, box.Y, box.Z];
        var (x, y, lowX, lowY) = (axes[across], axes[up], box.Low[across], box.Low[up]);
        var (sizeX, sizeY) = (box.Size[across], box.Size[up]);
        var cell = Math.Max(sizeX, sizeY) / most;
        var (columns, rows) = (Math.Max(1, (int)Math.Ceiling((sizeX / cell) - 1e-9)), Math.Max(1, (int)Math.Ceiling((sizeY / cell) - 1e-9)));
        var covered = new bool[columns * rows];
        var crossings = new List<double>();
        foreach (var patch in body.Patches())
        {
            var loops = patch.Loops.Select(loop => loop.Select(point => (X: (Vec3.Dot(point, x) - lowX) / cell, Y: (Vec3.Dot(point, y) - lowY) / cell)).ToArray()).ToArray();
            var (least, highest) = (double.PositiveInfinity, double.NegativeInfinity);
            foreach (var point in loops.SelectMany(loop => loop))
            {
                (least, highest) = (Math.Min(least, point.Y), Math.Max(highest, point.Y));
            }

            for (var row = Math.Max(0, (int)Math.Ceiling(least - 0.5)); row < rows && row + 0.5 <= highest; row++)
            {
                Cross(loops, row + 0.5, crossings);
                for (var i = 0; i + 1 < crossings.Count; i += 2)
                {
                    var (from, to) = (Math.Max(0, (int)Math.Ceiling(crossings[i] - 0.5)), Math.Min(columns, (int)Math.Ceiling(crossings[i + 1] - 0.5)));
                    for (var column = from; column < to; column++)
                    {
                        covered[(row * columns) + column] = true;
                    }
                }
            }
        }

        return new(columns, rows, cell, [.. RunsOf(covered, columns, rows)]);
    }

    private static void Cross((double X, double Y)[][] loops, double y, List<double> crossings)
    {
        crossings.Clear();
        foreach (var loop in loops)
        {
            for (var i = 0; i < loop.Length; i++)
            {
                var (a, b) = (loop[i], loop[(i + 1) % loop.Length]);
                if ((a.Y > y) != (b.Y > y))
                {
                    crossings.Add(a.X + ((y - a.Y) * (b.X - a.X) / (b.Y - a.Y)));
                }
            }
        }

        crossings.Sort();
    }

    private static IEnumerable<(int Row, int From, int To)> RunsOf(bool[] covered, int columns, int rows)
    {
        for (var row = 0; row < rows; row++)
        {
            for (var column = 0; column < columns; column++)
            {
                var from = column;
                while (column < columns && covered[(row * columns) + column])
                {
                    column++;
                }

                if (column > from)
                {
                    yield return (row, from, column);
                }
            }
        }
    }
}
