using Nest.Core.Quantities;

namespace Nest.Core.Jobs;

/// <summary>What a size of stock can be by its form: the one rule for tables and for pieces that are entered or corrected one by one.</summary>
public static class StockShape
{
    /// <summary>Larger than any stock that a small shop handles: a longer size is a typing mistake (common practice, no source).</summary>
    public static readonly Length Longest = Length.FromMillimetres(30_000m);

    /// <summary>What is wrong with the proportions; null when nothing is.</summary>
    public static ShapeProblem? Of(Form form, Length length, Length width, Length thickness) => form switch
    {
        Form.FlatBar when thickness > width => new("bar-on-edge", "the flat bar is thicker than it is wide", "give the larger size as its width"),
        Form.Plate when thickness > Length.Min(width, length) =>
            new("plate-too-thick", "the plate is thicker than it is wide or long", "check whether length, width and thickness are swapped"),
        Form.RectangularTube or Form.Angle when thickness > width =>
            new("section-on-edge", form == Form.Angle ? "the second leg is longer than the first" : "the second side is longer than the first", "give the larger size as its width"),
        _ => null,
    };

    /// <summary>What is wrong with a section, of stock or of a part that asks for it; null when nothing is.</summary>
    /// <param name="detail">Null: it has none, as plate and solid bars must.</param>
    public static ShapeProblem? OfSection(Form form, Length width, Length thickness, SectionDetail? detail)
    {
        if (form.IsSection() != detail is not null)
        {
            return new("section-detail", form.IsSection() ? "the section is not told" : "only a section has a wall or a name", "give wall and flange of a tube, angle, channel or tee, the name of a profile, and nothing for other forms");
        }

        if (detail is null)
        {
            return null;
        }

        if (form.HasOneSize() && width != thickness)
        {
            return new("section-one-size", "width and thickness differ", "give the outside diameter, or the size across flats, once");
        }

        if (form is Form.HexBar or Form.Profile)
        {
            return detail.Wall is not null || detail.Flange is not null
                    ? new("section-wall", "it has no wall and no flange", "leave them empty")
                : form == Form.Profile == (string.IsNullOrEmpty(detail.Name))
                    ? new("section-name", form == Form.Profile ? "the profile has no name" : "only a profile has a name", form == Form.Profile ? "give its name as the price list does" : "leave it empty")
                : null;
        }

        if (detail.Name is not null || (detail.Flange is not null && form is not (Form.Channel or Form.Tee)))
        {
            return new("section-name", detail.Name is not null ? "only a profile has a name" : "only channel and tee have a flange of its own thickness", "leave it empty");
        }

        if (detail.Wall is not { } wall || wall <= Length.Zero || detail.Flange <= Length.Zero)
        {
            return new("section-wall", "its wall is not given", "give the wall: of a tube its wall, of an angle the thickness of its legs, of channel and tee that of the web");
        }

        var flange = detail.Flange ?? wall;
        var tooThick = form switch
        {
            Form.Angle => wall >= Length.Min(width, thickness),
            Form.Channel => flange * 2 >= width || wall >= thickness,
            Form.Tee => flange >= thickness || wall >= width,
            _ => wall * 2 >= Length.Min(width, thickness),
        };
        return tooThick ? new("section-wall", "the wall leaves no room within the outer sizes", "check whether outer and inner size, or side and wall, are swapped") : null;
    }
}

/// <param name="Rule">Short name.</param>
/// <param name="Message">What is wrong.</param>
/// <param name="Advice">What to do.</param>
public sealed record ShapeProblem(string Rule, string Message, string Advice);
