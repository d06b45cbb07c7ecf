using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;

namespace Nest.Rack.Exchange;

/// <summary>Sizes of pieces as text, and from text.</summary>
public static class PieceSizes
{
    /// <summary><c>500 × 300 × 10 mm</c>, <c>Ø 30 × 800 mm</c>: bars with their section first.</summary>
    public static string Text(RackPiece piece, LengthFormat format)
    {
        var (length, width, thickness) = (Bare(piece.UsableLength), Bare(piece.UsableWidth), Bare(piece.Thickness));
        return piece.Form switch
        {
            Form.Plate => $"{length} × {width} × {thickness} {format.UnitName}",
            Form.FlatBar => $"{Bare(piece.Width)} × {thickness} × {length} {format.UnitName}",
            Form.SquareBar => $"□ {thickness} × {length} {format.UnitName}",
            Form.RoundBar => $"Ø {thickness} × {length} {format.UnitName}",
            _ => $"{SectionText.Of(piece.Form, piece.Width, piece.Thickness, piece.Detail, Bare)} × {length} {format.UnitName}",
        };

        string Bare(Length value) => LengthText.Format(value, format, withUnit: false);
    }

    /// <summary>Length, width and thickness of a form from sizes as written: plate and flat bar length × width × thickness, square and
    /// round bar length × side or diameter; a section first, its length behind it: <c>40x40x3x800</c>, <c>L 50x50x5 x 800</c>.</summary>
    /// <param name="refusal">Says why a text is no size.</param>
    /// <returns>Null: <paramref name="error"/> says why.</returns>
    public static PieceSize? Of(Form form, string text, LengthUnit unit, Func<SizeReading, string> refusal, out string error)
    {
        if (form.IsSection())
        {
            return OfSection(form, text, unit, refusal, out error);
        }

        var read = SizeText.Read(text, unit);
        error = read.Error.Length > 0 ? refusal(read) : "";
        if (error.Length > 0)
        {
            return null;
        }

        var sizes = read.Items;
        switch (form, sizes.Length)
        {
            case (Form.Plate or Form.FlatBar, 3) when sizes.Any(size => size.Mark == SizeMark.Thickness):
                // Whoever marks the thickness may write it first: 3/8 thk x 4 x 7-1/4.
                var thick = sizes.First(size => size.Mark == SizeMark.Thickness);
                var others = sizes.Remove(thick).Select(size => size.Length).ToArray();
                return sizes[0] == thick ? new(others[1], others[0], thick.Length) : new(others[0], others[1], thick.Length);
            case (Form.Plate or Form.FlatBar, 3) when sizes.All(size => size.Mark is SizeMark.None or SizeMark.Length or SizeMark.Width):
                return new(sizes[0].Length, sizes[1].Length, sizes[2].Length);
            case (Form.SquareBar or Form.RoundBar, 2):
                var section = form == Form.RoundBar ? SizeMark.Diameter : SizeMark.Side;
                return sizes[0].Mark == section || sizes[1].Mark == SizeMark.Length
                    ? new(sizes[1].Length, sizes[0].Length, sizes[0].Length)
                    : new(sizes[0].Length, sizes[1].Length, sizes[1].Length);
            default:
                error = $"'{text}' is no size of a {form.Word()}; write {(form is Form.Plate or Form.FlatBar ? "length x width x thickness" : form == Form.RoundBar ? "length x diameter" : "length x side")}";
                return null;
        }
    }

    private static PieceSize? OfSection(Form form, string text, LengthUnit unit, Func<SizeReading, string> refusal, out string error)
    {
        var named = SectionText.Find(text, letters: true);
        if (named.Form is { } other && other != form)
        {
            error = $"'{text}' is the size of a {other.Word()}, not of a {form.Word()}";
            return null;
        }

        var read = SizeText.Read(named.Numbers, unit, most: 5);
        error = read.Error.Length > 0 ? refusal(read) : "";
        if (error.Length > 0)
        {
            return null;
        }

        var length = read.Items.FirstOrDefault(item => item.Mark == SizeMark.Length) is { Mark: SizeMark.Length } marked ? marked : read.Items[^1];
        if (SectionText.Sizes(form, [.. read.Items.Remove(length).Select(item => item.Length)], out var wanted) is { } sizes)
        {
            return new(length.Length, sizes.Width, sizes.Thickness) { Detail = sizes.Detail };
        }

        error = $"'{text}' is no size of a {form.Word()}; write {wanted}, and its length behind it";
        return null;
    }
}

/// <summary>Sizes of a piece as typed.</summary>
public readonly record struct PieceSize(Length Length, Length Width, Length Thickness)
{
    /// <summary>Of a section; the name of a profile is not in its size.</summary>
    public SectionDetail? Detail { get; init; }
}
