using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack;

namespace Nest.Desk.Model;

/// <summary>A piece of the rack, as the list shows it.</summary>
internal sealed record RackRow(string Mark, string Material, string Form, string Size, string Place, string Heat, string State)
{
    /// <summary>Rows that one page shows at most.</summary>
    private const int Most = 500;

    /// <param name="find">Part of the mark, material or place; null: all.</param>
    /// <returns>No rows when the shop has no rack file; and how many pieces there are in all.</returns>
    public static (List<RackRow>? Rows, int All) In(Shop shop, string? find)
    {
        var path = Path.Combine(shop.Folder, "rack.db");
        if (!File.Exists(path))
        {
            return (null, 0);
        }

        using var store = RackStore.Open(path);
        var all = store.List(new());
        var wanted = find?.Trim() ?? "";
        return ([.. all.Where(piece => Has(piece.Mark) || Has(piece.MaterialId) || Has(piece.Place)).Take(Most).Select(Of)], all.Length);

        bool Has(string text) => text.Contains(wanted, StringComparison.OrdinalIgnoreCase);
    }

    public static RackRow Of(RackPiece piece)
    {
        var format = LengthFormat.For(LengthUnit.Millimetre, 0);
        var size = piece.Form.IsBar()
            ? $"{format.Text(piece.Width, false)} × {format.Text(piece.Thickness, false)} × {format.Text(piece.Length, false)}"
            : $"{format.Text(piece.Length, false)} × {format.Text(piece.Width, false)} × {format.Text(piece.Thickness, false)}";
        return new(piece.Mark, piece.MaterialId, piece.Form.IsBar() ? "bar" : "plate", size, piece.Place, piece.Heat, piece.State == PieceState.Reserved ? "reserved" : "free");
    }
}
