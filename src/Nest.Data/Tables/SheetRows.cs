using System.Runtime.InteropServices;

namespace Nest.Data.Tables;

/// <summary>The sheets of a workbook.</summary>
internal interface ISheets
{
    IReadOnlyList<string> Names { get; }

    bool IsHidden(int sheet);

    SheetRows Read(int sheet);
}

/// <summary>Collects the rows of a sheet while it is read, within the limits.</summary>
internal sealed class SheetRows
{
    private readonly List<RawCell> cells = [];
    private readonly List<(int Top, int Column, int Bottom)> merges = [];
    private int row;
    private bool hidden;
    private int filled;
    private int wide;

    public List<RawRow> Rows { get; } = [];

    /// <summary>Formulas without a saved value.</summary>
    public int Unsaved { get; private set; }

    /// <summary>First row with a cell beyond the last column that is read; 0: none.</summary>
    public int WideRow => wide;

    /// <summary>Begins a row.</summary>
    /// <param name="number">Its number; null: the next one.</param>
    public void Begin(int? number, bool isHidden)
    {
        End();
        row = number ?? row + 1;
        hidden = isHidden;
    }

    /// <summary>Adds a cell.</summary>
    /// <param name="column">From 0; below: the next one.</param>
    public void Add(int column, RawCell cell)
    {
        column = column < 0 ? cells.Count : column;
        if (cell.IsEmpty)
        {
            // Only that the next cell without a place comes behind it.
            Pad(Math.Min(column + 1, TableLimits.Columns));
            return;
        }

        if (column >= TableLimits.Columns)
        {
            wide = wide == 0 ? row : wide;
            return;
        }

        if (++filled > TableLimits.Cells)
        {
            throw new TooLargeException($"the sheet has more than {TableLimits.Cells} cells");
        }

        if (cell.Text.Length > TableLimits.CellText)
        {
            throw new TooLargeException($"a cell in row {row} has more than {TableLimits.CellText} characters");
        }

        Pad(column + 1);
        cells[column] = cell;
    }

    public void UnsavedFormula() => Unsaved++;

    /// <summary>A merged area; only what it means for the rows below its first counts.</summary>
    public void Merge(int top, int column, int bottom)
    {
        if (bottom > top && column is >= 1 and <= TableLimits.Columns && merges.Count < 10_000)
        {
            merges.Add((top, column - 1, bottom));
        }
    }

    /// <summary>Ends the sheet: an area that is merged over rows has its text in each of them.</summary>
    /// <returns>Rows of the first such area that gave a row its text; null: none did.</returns>
    public (int Top, int Bottom)? Finish()
    {
        End();
        (int, int)? first = null;
        if (merges.Count == 0)
        {
            return first;
        }

        var byRow = new Dictionary<int, int>(Rows.Count);
        for (var at = 0; at < Rows.Count; at++)
        {
            byRow.TryAdd(Rows[at].Line, at);
        }

        foreach (var (top, column, bottom) in merges)
        {
            if (!byRow.TryGetValue(top, out var from) || Rows[from].At(column).Length == 0)
            {
                continue;
            }

            var cell = Rows[from].Cells[column];
            for (var at = from + 1; at < Rows.Count && Rows[at].Line <= bottom && Rows[at].Line > top; at++)
            {
                var old = Rows[at].Cells;
                if (old.Length <= column)
                {
                    var longer = new RawCell[column + 1];
                    Array.Fill(longer, new RawCell(""));
                    old.CopyTo(longer, 0);
                    Rows[at] = Rows[at] with { Cells = longer };
                    old = longer;
                }

                if (old[column].IsEmpty)
                {
                    old[column] = cell;
                    first ??= (top, bottom);
                }
            }
        }

        return first;
    }

    private void End()
    {
        var used = cells.Count;
        while (used > 0 && cells[used - 1].IsEmpty)
        {
            used--;
        }

        if (used > 0)
        {
            if (Rows.Count >= TableLimits.Rows)
            {
                throw new TooLargeException($"the sheet has more than {TableLimits.Rows} rows");
            }

            Rows.Add(new(row, [.. CollectionsMarshal.AsSpan(cells)[..used]], hidden));
        }

        cells.Clear();
    }

    private void Pad(int count)
    {
        while (cells.Count < count)
        {
            cells.Add(new(""));
        }
    }
}
