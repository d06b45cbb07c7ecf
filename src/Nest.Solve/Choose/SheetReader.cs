using Nest.Core.Plans;
using Nest.Solve.Plates.ThroughCut;

namespace Nest.Solve.Choose;

/// <summary>Turns layouts of a plan into sheets that the kernel for through-cuts can search on.</summary>
/// <param name="unit">Nanometres per unit of length of the model.</param>
/// <param name="stocks">Stocks of the model as the component numbers them.</param>
/// <param name="parts">Parts of the model's items.</param>
internal sealed class SheetReader(ThroughModel model, long unit, List<int> stocks, string[] parts)
{
    private readonly Dictionary<string, int> _items = parts.Select((part, item) => (part, item)).ToDictionary(one => one.part, one => one.item, StringComparer.Ordinal);

    /// <returns>Null where its cuts break a rule of the saw as the kernel counts them.</returns>
    public CutSheet? Read(Column column)
    {
        var stock = stocks.IndexOf(column.Stock);
        if (stock < 0 || column.Layout.Tree is not { } tree)
        {
            return null;
        }

        var sheet = model.Blank[stock][0].Clone();
        return sheet.Build(model, Cut(tree, column.Layout)) ? sheet : null;
    }

    private GuillotineCut Cut(CutNode node, Layout layout) => node.Kind switch
    {
        CutNodeKind.Piece => Piece(layout.Pieces[node.Index]),
        CutNodeKind.Split => Split(node, 0, layout),
        _ => GuillotineCut.Nothing,
    };

    private GuillotineCut Piece(PlacedPiece piece) => GuillotineCut.Piece(model, _items[piece.PartId], piece.Turned);

    /// <summary>The children from one on, one cut after the other.</summary>
    private GuillotineCut Split(CutNode node, int from, Layout layout)
    {
        var child = node.Children[from];
        var across = node.Direction == CutDirection.Crosscut;
        var own = Cut(child, layout);
        var (width, height) = (Inflated(node.Area.SizeX), Inflated(node.Area.SizeY));
        return new(
            -1, false, across ? CutSheet.Across : CutSheet.Along, Inflated(across ? child.Area.SizeX : child.Area.SizeY), width, height, own,
            from + 1 < node.Children.Length ? Split(node, from + 1, layout) : GuillotineCut.Nothing);
    }

    private long Inflated(Core.Quantities.Length length) => (length.Nanometres / unit) + model.Kerf;
}
