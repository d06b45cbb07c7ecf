using Nest.Core.Quantities;
using Nest.Core.Racks;

namespace Nest.Rack.Pieces;

/// <summary>What an adjustment did.</summary>
/// <param name="SoToo">Which pieces cut from it were corrected alike, in words; empty: none.</param>
public sealed record Adjusted(RackPiece Before, RackPiece After, string SoToo)
{
    /// <summary>The answer, in this format.</summary>
    public string Text(LengthFormat format) => Line(PieceWords.Changed(Before, After, format));

    internal string Line(IEnumerable<string> words) =>
        $"adjusted {Before.Mark}: {string.Join("; ", words)}{(SoToo.Length == 0 ? "" : "; " + SoToo)}";
}
