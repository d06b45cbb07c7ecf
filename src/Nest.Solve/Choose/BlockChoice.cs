namespace Nest.Solve.Choose;

/// <summary>A block of one kind and how the rest is divided.</summary>
/// <param name="Above">The first cut runs above the block, over the whole width; else right of it, over the whole height.</param>
/// <param name="Beside">Counts that come from the rest beside the block; the others from the rest behind the first cut.</param>
internal readonly record struct BlockChoice(int Kind, bool Turned, int Columns, int Rows, bool Above, long Beside, long Behind);
