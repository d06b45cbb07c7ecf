using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Csv;

namespace Nest.Data.Stocks;

/// <summary>The sizes of a section from a row: from columns, or from one text; of stock and of parts that ask for a length of it.</summary>
/// <param name="Form">As the numbers say where the word was only tube.</param>
/// <param name="Width">Zero of a named profile whose size the row does not tell.</param>
internal readonly record struct SectionCells(Form Form, Length Length, Length Width, Length Thickness, SectionDetail Detail)
{
    public const string Wall = "wall";
    public const string Flange = "flange";
    public const string ProfileName = "profile name";

    /// <summary>Columns that tables of stock and of parts have alike.</summary>
    public static IReadOnlyList<Column> Columns { get; } =
    [
        new(
            Wall, false, "wall thickness", "leg thickness", "web", "web thickness", "wandstärke", "wanddicke", "wand", "schenkeldicke", "stegdicke",
            "paroi", "épaisseur de paroi", "épaisseur paroi", "âme", "pared", "espesor de pared", "espesor pared", "alma") { Kind = ColumnKind.Length, Key = true },
        new(Flange, false, "flange thickness", "flanschdicke", "flansch", "épaisseur de semelle", "semelle", "ala", "espesor de ala") { Kind = ColumnKind.Length, Key = true },
        new(ProfileName, false, "name of profile", "profile type", "profilname", "profiltyp", "profilbezeichnung", "nom du profilé", "nombre del perfil", "tipo de perfil"),
    ];

    /// <summary>Null after a finding.</summary>
    /// <param name="form">From the cell of the form; null: only the size text can tell.</param>
    /// <param name="plainTube">The cell says tube, but not which.</param>
    /// <param name="size">Name of the column with sizes in one text.</param>
    /// <param name="named">Text of a size in one text without its word, and the form that it named; null: from the columns of single sizes.</param>
    public static SectionCells? Read(CsvRow row, Form form, bool plainTube, string size, SectionText.Named? named, bool profileSized)
    {
        var sections = named is { } text ? OneText(row, form, plainTube, size, text) : FromColumns(row, form, plainTube, profileSized);
        if (row.Failed || sections is not { } read)
        {
            return null;
        }

        if (read.Form == Form.Profile)
        {
            read = read with { Detail = read.Detail with { Name = row.Required(ProfileName).Length > 0 ? row.Name(ProfileName) : null } };
        }
        else if (row.Has(ProfileName))
        {
            row.Error(ProfileName, "size-not-of-form", $"{AnOf(read.Form)} has no name", "leave it empty, or give the form profile");
        }

        var sized = read.Width > Length.Zero;
        if (!row.Failed && sized
            && (StockShape.OfSection(read.Form, read.Width, read.Thickness, read.Detail) ?? StockShape.Of(read.Form, read.Length, read.Width, read.Thickness)) is { } problem)
        {
            row.Error(named is null ? row.Has(Wall) ? Wall : "width" : size, problem.Rule, problem.Message, problem.Advice);
        }

        return row.Failed ? null : read;
    }

    private static SectionCells? OneText(CsvRow row, Form form, bool plainTube, string column, SectionText.Named named)
    {
        if (row.MarkOf(column) is not { } mark)
        {
            row.Fail(); // which mark it is was asked for the whole column
            return null;
        }

        var reading = SizeText.Read(row.InUnitOf(named.Numbers, column), row.UnitOf(column), mark, most: 5);
        if (reading.Error.Length > 0)
        {
            row.Unreadable(column, "size-unreadable", reading.Error, reading.Hint);
            return null;
        }

        var items = reading.Items;
        if (!items.All(item => row.Sound(column, item.Length)))
        {
            return null;
        }

        // The length is the marked one, or that of its own column, or the last.
        var length = items.FirstOrDefault(item => item.Mark == SizeMark.Length);
        var apart = length.Mark != SizeMark.Length && row.Has("length");
        var last = apart ? default : length.Mark == SizeMark.Length ? length : items[^1];
        var numbers = (apart ? items : items.Remove(last)).Select(item => item.Length).ToList();
        foreach (var wall in (string[])[Wall, Flange])
        {
            if (row.Has(wall) && row.Size(wall) is { } extra)
            {
                numbers.Add(extra);
            }
        }

        var is1 = plainTube && !items.Any(item => item.Mark == SizeMark.Diameter) && numbers.Count > 2 ? Form.RectangularTube : form;
        if (SectionText.Sizes(is1, numbers, out var wanted) is not { } sizes)
        {
            row.Error(
                column, "size-unclear", $"size {row.Text(column)} is none of {AnOf(is1)}",
                $"write {wanted}{(apart ? "" : ", and the length behind it or in a column of its own")}");
            return null;
        }

        return new(is1, apart ? row.RequiredSize("length") : last.Length, sizes.Width, sizes.Thickness, sizes.Detail);
    }

    private static SectionCells? FromColumns(CsvRow row, Form form, bool plainTube, bool profileSized)
    {
        var length = row.RequiredSize("length");
        var is1 = plainTube && row.Has("width") && row.Has("thickness") ? Form.RectangularTube : form;
        var across = row.Has("diameter") && is1.HasOneSize() ? row.RequiredSize("diameter")
            : is1 == Form.Profile && !profileSized && !row.Has("width") ? Length.Zero
            : row.RequiredSize("width");
        var (wall, flange) = (row.Size(Wall), row.Size(Flange));
        if (is1 == Form.RoundTube && wall is null && row.Has("thickness"))
        {
            wall = row.Size("thickness"); // a tube with one outside size has no other thickness
        }

        var other = is1.HasOneSize() || !row.Has("thickness") ? across : row.RequiredSize("thickness");
        if (!row.Failed && wall is null && is1 is not (Form.HexBar or Form.Profile))
        {
            row.Error(Wall, "cell-missing", $"the wall of the {is1.Word()} is missing", "fill in 'wall': of a tube its wall, of an angle the thickness of its legs, of channel and tee that of the web; or write the size in one text, such as 40x40x3");
        }

        if (!row.Failed && is1 is Form.Channel && !row.Has("thickness"))
        {
            row.Error("thickness", "cell-missing", "the width of the channel's flanges is missing", "fill in 'thickness' (of a channel: the width of a flange)");
        }

        return row.Failed ? null : is1 is Form.RectangularTube or Form.Angle
            ? new(is1, length, Length.Max(across, other), Length.Min(across, other), new() { Wall = wall, Flange = flange })
            : new(is1, length, across, other, new() { Wall = is1 == Form.HexBar ? null : wall, Flange = flange });
    }

    private static string AnOf(Form form) => form == Form.Angle ? "an angle" : $"a {form.Word()}";
}
