using System.Globalization;
using Nest.Output.Fonts;
using Nest.Output.Scenes;

namespace Nest.Output.Sheets;

/// <summary>The pages of a cut sheet: each with a head, a foot and a body between.</summary>
internal sealed class SheetPages(SheetContext context, Paper paper)
{
    private const double Side = 10;
    private readonly List<(SceneBuilder Scene, string Head, string Mark)> _pages = [];
    private string _head = "";
    private string _mark = "";

    private double Width => paper == Paper.A4 ? 210 : 215.9;

    private double Height => paper == Paper.A4 ? 297 : 279.4;

    public Box Body => Box.FromEdges(Side, 25, Width - Side, Height - 15);

    public int Count => _pages.Count;

    public SceneBuilder Scene => _pages[^1].Scene;

    /// <summary>Starts a page with a new head.</summary>
    /// <returns>Top of its body.</returns>
    public double Start(string head, string mark = "")
    {
        _head = head;
        _mark = mark;
        return Next();
    }

    /// <summary>Starts a page with the same head.</summary>
    public double Next()
    {
        _pages.Add((new("page", Width, Height), _head, _mark));
        return Body.Y;
    }

    /// <summary>Where something so high begins: here, or on a new page.</summary>
    public double Room(double top, double height) => top + height > Body.Bottom ? Next() : top;

    /// <summary>A paragraph that goes to a new page where less room than this is left.</summary>
    /// <remarks>The page is asked for before its scene: in one call the scene would be that of the page before.</remarks>
    /// <returns>Where it ends.</returns>
    public double Paragraph(string text, double top, double room, double size, double gap = 0)
    {
        var y = Room(top, room) + gap;
        return Scene.Paragraph(Layer.Page, text, Body, y, size);
    }

    /// <summary>No pages yet, of the same paper: to try what something needs.</summary>
    public SheetPages Blank() => new(context, paper);

    /// <summary>Heads and feet come last, when the number of pages is known.</summary>
    public List<Scene> Build()
    {
        for (var index = 0; index < _pages.Count; index++)
        {
            var (scene, head, mark) = _pages[index];
            Frame(scene, head, mark, index + 1);
        }

        return [.. _pages.Select((page, index) => page.Scene.Build() with { Name = $"page-{index + 1:000}" })];
    }

    private void Frame(SceneBuilder scene, string head, string mark, int page)
    {
        var texts = context.Texts;
        var band = Box.FromEdges(Side, 9, Width - Side, 21);
        var right = mark.Length > 0 ? Mark(scene, mark, band.Right, band.Y + 0.6) : band.Right;
        scene.Text(Layer.Page, head, band.X, band.Y + 6, 6, Box.FromEdges(band.X, band.Y, right, band.Y + 8.5), Face.Bold);
        scene.Line(Layer.Page, band.X, band.Bottom - 1.2, band.Right, band.Bottom - 1.2, new Stroke(PartLook.Ink, 0.6));
        var foot = Height - 8;
        var line = Box.FromEdges(Side, foot - 4, Width - Side, foot + 1.5);
        scene.Line(Layer.Page, line.X, line.Y - 0.6, line.Right, line.Y - 0.6, new Stroke(PartLook.Ink, 0.25));
        var pageText = SheetContext.Fill(texts.Page, page, _pages.Count);
        var number = scene.Text(Layer.Page, pageText, line.Right, foot, Print.Least, line, Face.Bold, Align.Right);
        var print = SheetContext.Fill(texts.Plan, context.Print);
        var date = context.Options.Date is { } day ? day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) + "   " : "";
        var middle = scene.Text(Layer.Page, date + print, number.X - 6, foot, Print.Least, line, Face.Mono, Align.Right);
        scene.Text(Layer.Page, context.Job.Name, line.X, foot, Print.Least, Box.FromEdges(line.X, line.Y, middle.X - 4, line.Bottom));
    }

    /// <summary>A mark at the right of a heading, white on black.</summary>
    /// <returns>Where the heading ends beside it.</returns>
    public static double Mark(SceneBuilder scene, string mark, double right, double top)
    {
        var wide = FontBook.Width(mark, Face.Bold, 4.2) + 5;
        var pill = new Box(right - wide, top, wide, 7.4);
        scene.Box(Layer.Page, pill, Tint.Black);
        scene.Text(Layer.Page, mark, pill.CenterX, pill.Y + 5.2, 4.2, pill, Face.Bold, Align.Center, Tint.White);
        return pill.X - 3;
    }
}
