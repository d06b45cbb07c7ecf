namespace Nest.Solve.Plates.ThroughCut;

/// <summary>A dynamic programme over one kind of plate: most value with any number of copies.</summary>
internal interface IValueTable
{
    /// <summary>Whether every size is on the grid exactly.</summary>
    bool Exact { get; }

    /// <summary>Rough number of steps of one fill, about half a nanosecond each.</summary>
    double Steps { get; }

    /// <summary>Fills the table; an upper bound on the value of every layout (on a grid rounded down).</summary>
    long Fill(ReadOnlySpan<long> values);

    /// <summary>The pattern of the last fill; only on an exact grid or one rounded up.</summary>
    GuillotineCut Pattern();
}

/// <summary>Makes the finest table for a way of cutting whose fill takes at most so many steps.</summary>
internal static class ValueTables
{
    private const int MostStages = 3;

    public static IValueTable Within(ThroughModel model, int stock, double steps, bool roundUp)
    {
        var points = 4096;
        while (true)
        {
            var grid = new ValueGrid(model, stock, points, roundUp);
            IValueTable table = model.Stages <= MostStages ? new StagedTable(model, grid) : new GuillotineTable(grid);
            if (table.Steps <= steps || points < 80)
            {
                return table;
            }

            points = points * 3 / 4;
        }
    }
}
