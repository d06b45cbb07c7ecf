using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Csv;
using Nest.Data.Stocks;

namespace Nest.Data.Parts;

/// <summary>Parts that are a length of a section: which rows ask for one, what their ends may be, and the sizes of named profiles.</summary>
internal static class PartSections
{
    /// <summary>Whether a row asks for a length of a section, by its form or by its size.</summary>
    public static bool Asks(CsvRow row, Forms forms) =>
        forms.Section() is not null || Named(row, forms) is { } named && (named.Form is not null || named.PlainTube);

    private static SectionText.Named? Named(CsvRow row, Forms forms) => row.Has(PartColumns.Size)
        ? SectionText.Find(row.Text(PartColumns.Size), letters: forms.Section() is not null || row.Has("length"))
        : null;

    /// <summary>The section that a row asks for; null after a finding.</summary>
    public static SectionCells? Read(CsvRow row, Forms forms)
    {
        var word = row.Text("forms");
        var form = forms.Section();
        var named = Named(row, forms);
        var plain = form is null ? named!.Value.Form is null : Words.IsPlainTube(word);
        if (word.Length > 0 && named?.Form is { } other && !(plain && other is Form.RoundTube or Form.RectangularTube) && form != other)
        {
            // Round parts are turned from hex bar where the forms say so.
            row.Error(PartColumns.Size, "size-not-of-form", $"the size {row.Text(PartColumns.Size)} is of a {other.Word()}, the form is {word}", "correct one of them, or leave the form empty");
            return null;
        }

        var asked = named?.Form ?? form ?? Form.RoundTube;
        if (asked == Form.HexBar && row.Has("diameter") && !row.Has(PartColumns.Size))
        {
            row.Doubt("diameter", "hex-diameter", $"the diameter {row.Text("diameter")} of a hex bar is read as its size across flats", "write it under width or across flats; a round part that is turned from hex bar has the forms round bar + hex bar");
        }

        return SectionCells.Read(row, asked, plain && named?.Form is null, PartColumns.Size, named, profileSized: false);
    }

    /// <summary>Angled ends of a section: on which side it lies must be clear, and a hex bar is cut square.</summary>
    public static void CheckEnds(CsvRow row, EndAngles? ends, SectionCells section)
    {
        if (ends is null)
        {
            return;
        }

        var column = ends.Start.IsSquare ? AngleCells.End : AngleCells.Start;
        if (section.Form == Form.HexBar)
        {
            row.Error(column, "hex-angled", "a hex bar is cut square", "leave the angles empty");
        }
        else if (!row.Has(AngleCells.Across) && section.Form != Form.RoundTube
            && (section.Form is Form.Channel or Form.Tee or Form.Profile || section.Width != section.Thickness))
        {
            row.Error(
                AngleCells.Across, "angle-side", $"the ends are angled, and it is not said on which side the {section.Form.Word()} lies",
                $"write width where it lies on its width (the cut leans across it), thickness where it lies on its thickness");
        }
    }

    /// <summary>A part of a named profile has the outer sizes of the stock of that name; its row may leave them out.</summary>
    public static List<PartRow> Sized(List<PartRow> rows, IReadOnlyList<Stock> stocks, FindingList findings)
    {
        return [.. rows.Select(row => row.Part is { Detail.Name: { } name } part && part.Width == Length.Zero ? row with { Part = Of(row, part, name) } : row)];

        Part Of(PartRow row, Part part, string name)
        {
            var known = stocks.Where(stock => stock.Form == Form.Profile && string.Equals(stock.MaterialId, part.MaterialId, StringComparison.OrdinalIgnoreCase)).ToList();
            var sizes = known.Where(stock => string.Equals(stock.Detail?.Name, name, StringComparison.OrdinalIgnoreCase))
                .Select(stock => (stock.Width, stock.Thickness)).Distinct().ToList();
            if (sizes is [var (width, thickness)])
            {
                return part with { Width = width, Thickness = thickness };
            }

            var names = known.Select(stock => stock.Detail?.Name).OfType<string>().Distinct(StringComparer.OrdinalIgnoreCase).Take(8).ToList();
            findings.Error(
                "profile-unknown", row.Where,
                sizes.Count == 0 ? $"no stock is a profile '{name}' of {part.MaterialId}" : $"profiles '{name}' of {part.MaterialId} have several sizes",
                sizes.Count > 0 ? "give width and thickness of the part" : names.Count == 0 ? "add it to a catalogue, or correct the name" : $"write one of {string.Join(", ", names)}, or add it to a catalogue");
            return part;
        }
    }
}
