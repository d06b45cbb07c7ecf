namespace Nest.Solve.Plates.ThroughCut;

/// <summary>A pattern as binary cuts in inflated sizes: a piece, a cut at a size from the lower left, or nothing.</summary>
/// <param name="Item">Index of a piece's item, else −1.</param>
/// <param name="At">Size of the lower part, kerf included.</param>
/// <param name="Width">Smallest node that holds the pattern.</param>
internal sealed record GuillotineCut(
    int Item, bool Turned, byte Direction, long At, long Width, long Height, GuillotineCut? Low, GuillotineCut? High)
{
    public static GuillotineCut Nothing { get; } = new(-1, false, 0, 0, 0, 0, null, null);

    public int Pieces { get; } = Item >= 0 ? 1 : (Low?.Pieces ?? 0) + (High?.Pieces ?? 0);

    public static GuillotineCut Piece(ThroughModel model, int item, bool turned) => turned
        ? new GuillotineCut(item, true, 0, 0, model.Height[item], model.Width[item], null, null)
        : new GuillotineCut(item, false, 0, 0, model.Width[item], model.Height[item], null, null);
}
