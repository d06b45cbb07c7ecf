using System.Globalization;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack.Pieces;

namespace Nest.Rack.Exchange;

/// <summary>Pieces as a table: what export writes and import reads.</summary>
/// <remarks>Lengths in millimetres, exact to the nanometre; money with four decimals; the heads name the units.</remarks>
public static class RackTable
{
    public static IReadOnlyList<string> Heads { get; } =
    [
        "mark", "state", "form", "material", "length (mm)", "width (mm)", "thickness (mm)", "min length (mm)", "min width (mm)",
        "min thickness (mm)", "rolling", "clean edges", "keep outs", "good faces", "heat", "certificate", "place", "bought", "supplier",
        "origin", "value", "entered", "condition", "reserved for", "mass (kg)", "note", "wall (mm)", "flange (mm)", "profile name", "metal mm2",
    ];

    /// <summary>Cells: texts, decimals, or null.</summary>
    public static object?[] Row(RackPiece piece) =>
    [
        piece.Mark, StateWord(piece.State), piece.Form.Word(), piece.MaterialId, Mm(piece.Length), Mm(piece.Width), Mm(piece.Thickness),
        Mm(piece.MinLength), Mm(piece.MinWidth), Mm(piece.MinThickness),
        RollingWord(piece.Rolling), Edges(piece.CleanEdges), KeepOuts(piece), YesNo(piece.GoodFaces),
        piece.Heat, piece.Certificate, piece.Place, YesNo(piece.Bought), piece.Supplier, piece.Origin, piece.Value.Amount,
        piece.Entered.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture), ConditionWord(piece.Condition),
        piece.ReservedFor is { } plan ? Plans.PlanNumber.Format(plan) : "", decimal.Round(piece.Mass.Kilograms, 6), piece.Note,
        Mm(piece.Detail?.Wall), Mm(piece.Detail?.Flange), piece.Detail?.Name ?? "", piece.ListedSection?.ToSquareMillimetres() / 1.000000000000000000m,
    ];

    public static string StateWord(PieceState state) => state == PieceState.OnRack ? "on rack" : state.ToString().ToLowerInvariant();

    public static string ConditionWord(PieceCondition condition) => condition.ToString().ToLowerInvariant();

    public static string RollingWord(RollingDirection rolling) => rolling == RollingDirection.Unknown ? "unknown" : "along length";

    public static string YesNo(bool yes) => yes ? "yes" : "no";

    public static string Edges(CleanEdges edges)
    {
        var words = new List<string>();
        Add(edges.Left, "left");
        Add(edges.Right, "right");
        Add(edges.Bottom, "bottom");
        Add(edges.Top, "top");
        return words.Count switch { 0 => "none", 4 => "all", _ => string.Join(' ', words) };

        void Add(bool clean, string word)
        {
            if (clean)
            {
                words.Add(word);
            }
        }
    }

    private static string KeepOuts(RackPiece piece) => string.Join("; ", piece.KeepOuts.Select(rect => string.Join(
        ' ', new[] { rect.X, rect.Y, rect.SizeX, rect.SizeY }.Select(length => length.ToMillimetres().ToString("0.######", CultureInfo.InvariantCulture)))));

    private static object? Mm(Length? length) => length?.ToMillimetres() / 1.000000000000000000m;
}
