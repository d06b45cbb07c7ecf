using System.Collections.Immutable;
using Nest.Core.Plans;
using Nest.Solve.Plates;

namespace Nest.Solve.Choose;

/// <summary>The cuts of a plate that is laid in blocks of equal pieces.</summary>
/// <param name="choose">The block of a rectangle (width, height, packed counts) and how its rest is divided.</param>
internal sealed class BlockTree((long X, long Y, bool MayTurn)[] sizes, long kerf, Func<long, long, long, BlockChoice> choose)
{
    private readonly ImmutableArray<PlatePlacement>.Builder _pieces = ImmutableArray.CreateBuilder<PlatePlacement>();

    /// <summary>What was built so far.</summary>
    public ImmutableArray<PlatePlacement> Pieces => _pieces.ToImmutable();

    public PlateNode Build(PlateRect area, long counts)
    {
        if (counts == 0)
        {
            return new(PlateNodeKind.Rest, area, default, []);
        }

        var choice = choose(area.SizeX, area.SizeY, counts);
        var (x, y) = choice.Turned ? (sizes[choice.Kind].Y, sizes[choice.Kind].X) : (sizes[choice.Kind].X, sizes[choice.Kind].Y);
        var (wide, high) = (BlockLayouts.Grown(x, choice.Columns, kerf), BlockLayouts.Grown(y, choice.Rows, kerf));
        var strip = choice.Above ? area with { SizeY = high } : area with { SizeX = wide };
        var parts = new List<PlateNode>();
        if (choice.Above)
        {
            for (var c = 0; c < choice.Columns; c++)
            {
                parts.Add(Stack(new(area.X + (c * (x + kerf)), area.Y, x, high), CutDirection.Rip, choice.Rows));
            }
        }
        else
        {
            for (var r = 0; r < choice.Rows; r++)
            {
                parts.Add(Stack(new(area.X, area.Y + (r * (y + kerf)), wide, y), CutDirection.Crosscut, choice.Columns));
            }
        }

        var beside = choice.Above
            ? new PlateRect(area.X + wide + kerf, area.Y, area.SizeX - wide - kerf, high)
            : new PlateRect(area.X, area.Y + high + kerf, wide, area.SizeY - high - kerf);
        var behind = choice.Above
            ? new PlateRect(area.X, area.Y + high + kerf, area.SizeX, area.SizeY - high - kerf)
            : new PlateRect(area.X + wide + kerf, area.Y, area.SizeX - wide - kerf, area.SizeY);
        var inner = Split(strip, choice.Above ? CutDirection.Crosscut : CutDirection.Rip, parts, beside, choice.Beside);
        return Split(area, choice.Above ? CutDirection.Rip : CutDirection.Crosscut, [inner], behind, choice.Behind);

        PlateNode Stack(PlateRect place, CutDirection direction, int number)
        {
            var children = new List<PlateNode>();
            for (var n = 0; n < number; n++)
            {
                var one = direction == CutDirection.Rip
                    ? place with { Y = place.Y + (n * (y + kerf)), SizeY = y }
                    : place with { X = place.X + (n * (x + kerf)), SizeX = x };
                _pieces.Add(new(choice.Kind, one, choice.Turned));
                children.Add(new(PlateNodeKind.Piece, one, default, [], choice.Kind, choice.Turned));
            }

            return Node(place, direction, children);
        }

        PlateNode Split(PlateRect whole, CutDirection direction, List<PlateNode> children, PlateRect rest, long wanted)
        {
            if (rest.SizeX > 0 && rest.SizeY > 0)
            {
                children.Add(Build(rest, wanted));
            }

            return Node(whole, direction, children);
        }
    }

    /// <summary>A Split of these; children divided the same way become part of it, and one that fills it all stands for it.</summary>
    private static PlateNode Node(PlateRect area, CutDirection direction, List<PlateNode> children)
    {
        if (children.Count == 1 && children[0].Area == area)
        {
            return children[0];
        }

        return new(PlateNodeKind.Split, area, direction, [.. children.SelectMany(child =>
            child.Kind == PlateNodeKind.Split && child.Direction == direction ? child.Children : [child])]);
    }
}
