using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Racks;

namespace Nest.Data.Racks;

/// <summary>A row of a table of the rack.</summary>
/// <param name="Piece">What the row says; its material by the name that the list of materials has.</param>
/// <param name="HasValue">Whether the row names a value; else the piece's is zero.</param>
public sealed record RackRow(SourcePosition Where, Material Material, RackPiece Piece, bool HasValue);

/// <summary>All rows of a table.</summary>
public sealed record RackRows(ImmutableArray<RackRow> Rows);
