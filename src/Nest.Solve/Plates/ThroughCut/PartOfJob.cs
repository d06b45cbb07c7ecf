namespace Nest.Solve.Plates.ThroughCut;

/// <summary>A part of a job that <see cref="RuinRecreate"/> solves by itself.</summary>
/// <param name="Demand">Pieces to cut, per item.</param>
/// <param name="Plates">Most plates, per stock.</param>
/// <param name="Memory">Length of the late-acceptance memory in steps: longer is slower and ends better.</param>
internal sealed record PartOfJob(int[] Demand, int[] Plates, int Memory);
