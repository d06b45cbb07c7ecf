using System.Collections.Immutable;
using Nest.Core.Racks;
using Nest.Rack.Pieces;

namespace Nest.Rack.Tracing;

/// <summary>Blanks of one cut, and the metal they are of.</summary>
/// <param name="Marks">The piece they were cut from, then the piece that was cut from, and so on to what was bought or found.</param>
public sealed record TracedBlanks(
    string Batch, string PartId, int Count, string Plan, int Layout, DateTimeOffset CutAt, string Heat, string Certificate,
    string Supplier, string MaterialId, ImmutableArray<string> Marks);

/// <summary>All that became of a heat.</summary>
/// <param name="Pieces">Every piece of the heat, whatever its state.</param>
/// <param name="Blanks">Every blank cut from them.</param>
public sealed record HeatTrace(string Heat, ImmutableArray<RackPiece> Pieces, ImmutableArray<TracedBlanks> Blanks);
