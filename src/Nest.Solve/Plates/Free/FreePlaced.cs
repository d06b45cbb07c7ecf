namespace Nest.Solve.Plates.Free;

/// <summary>A piece on a plate: lower left corner, and whether it lies turned.</summary>
internal readonly record struct FreePlaced(int Kind, long X, long Y, bool Turned);
