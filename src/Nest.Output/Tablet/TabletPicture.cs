using System.Globalization;
using System.Text;
using Nest.Core.Cutting;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Output.Draw;
using Nest.Output.Pictures;
using Nest.Output.Sheets;

namespace Nest.Output.Tablet;

/// <summary>A layout for the tablet page: shapes alone, which the page's script lights up, enlarges and names as large as they are on the
/// screen at hand. A plate is to scale; a bar in its length.</summary>
/// <remarks>1000 units wide. A cut carries what is on the saw for it, and which edge of that it is measured from.</remarks>
internal sealed class TabletPicture
{
    private const double Wide = 1000;
    private const double BarBand = 170;
    private const double BarTall = 110;

    private readonly SheetContext _context;
    private readonly Layout _layout;
    private readonly bool _bar;
    private readonly double _scale;
    private readonly double _tall;
    private readonly StringBuilder _svg = new();

    private TabletPicture(SheetContext context, Layout layout)
    {
        (_context, _layout) = (context, layout);
        _bar = context.Plan.StockOf(layout).Form.IsBar();
        _scale = Wide / View.Millimetres(layout.Sheet.SizeX);
        _tall = _bar ? BarBand : Math.Max(40, View.Millimetres(layout.Sheet.SizeY) * _scale);
    }

    /// <param name="name">What the picture shows, for those who do not see it.</param>
    public static string Svg(SheetContext context, Layout layout, CutSequence sequence, string name) => new TabletPicture(context, layout).Draw(sequence, name);

    private string Draw(CutSequence sequence, string name)
    {
        _svg.Append(CultureInfo.InvariantCulture, $"<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {N(Wide)} {N(_tall)}\" role=\"img\" aria-label=\"{SvgFile.Escape(name)}\">\n");
        Box(_layout.Sheet with { X = Length.Zero, Y = Length.Zero }, "sheet", "");
        foreach (var offcut in _layout.Offcuts.Where(offcut => !offcut.Keep))
        {
            Box(offcut.Area, "scrap", "");
        }

        foreach (var (mark, offcut, _) in SheetContext.Kept(_layout))
        {
            Box(offcut.Area, "keep", $" data-name=\"{SvgFile.Escape(SheetContext.Fill(_context.Texts.Keep, mark))}\" data-keep=\"{SvgFile.Escape(mark)}\"");
        }

        foreach (var piece in _layout.Pieces)
        {
            var along = !_bar && !_context.Part(piece.PartId).MayTurn ? " ↔" : "";
            Box(piece.Area, "piece", $" data-name=\"{_context.Number(piece.PartId)}{(piece.Spare ? " " + SvgFile.Escape(_context.Texts.Spare) : "")}{along}\"");
            foreach (var area in PartsInBlank.Of(_context.Part(piece.PartId), piece))
            {
                // Of a bar the height of the picture is free, so the parts have their share of it.
                Box(area, "milled", "", piece.Area);
            }
        }

        foreach (var keepOut in _context.Plan.StockOf(_layout).KeepOuts)
        {
            Box(keepOut, "damage", $" data-name=\"{SvgFile.Escape(_context.Texts.KeepOut)}\"");
        }

        foreach (var step in sequence.Steps)
        {
            var strip = step.OnSaw.Kind == WorkKind.Strip ? $" data-strip=\"{SvgFile.Escape(StepText.Letter(step.OnSaw))}\"" : "";
            Box(step.Kerf, "cut", $" data-cut=\"{step.Number}\" data-on=\"{Corners(step.OnSaw.Area)}\" data-edge=\"{EdgeOf(step.Against)}\"{strip}");
        }

        foreach (var outline in sequence.Outlines)
        {
            Box(outline.Area, "cut", $" data-cut=\"{outline.Number}\"");
        }

        return _svg.Append("</svg>\n").ToString();
    }

    /// <param name="within">Blank of a part that is milled from it.</param>
    private void Box(Rect area, string kind, string more, Rect? within = null)
    {
        var (x, y, width, height) = Map(area);
        if (_bar && within is { } blank)
        {
            var tall = BarTall / View.Millimetres(blank.SizeY);
            (y, height) = (y + (View.Millimetres(blank.Top - area.Top) * tall), View.Millimetres(area.SizeY) * tall);
        }

        _svg.Append(CultureInfo.InvariantCulture, $"<rect class=\"{kind}\" x=\"{N(x)}\" y=\"{N(y)}\" width=\"{N(width)}\" height=\"{N(height)}\"{more}/>\n");
    }

    private string Corners(Rect area)
    {
        var (x, y, width, height) = Map(area);
        return $"{N(x)} {N(y)} {N(width)} {N(height)}";
    }

    private (double X, double Y, double Width, double Height) Map(Rect area)
    {
        var (x, width) = (View.Millimetres(area.X) * _scale, Math.Max(0, View.Millimetres(area.SizeX) * _scale));
        return _bar
            ? (x, (BarBand - BarTall) / 2, width, BarTall)
            : (x, _tall - (View.Millimetres(area.Top) * _scale), width, Math.Max(0, View.Millimetres(area.SizeY) * _scale));
    }

    private static string EdgeOf(Edge edge) => edge switch { Edge.Left => "left", Edge.Right => "right", Edge.Bottom => "bottom", _ => "top" };

    private static string N(double value) => Math.Round(value, 2).ToString("0.##", CultureInfo.InvariantCulture);
}
