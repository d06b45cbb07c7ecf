using Nest.Core.Solids;
using Nest.Output.Draw;
using Nest.Output.Files;
using Nest.Output.Fonts;
using Nest.Output.Scenes;

namespace Nest.Output.Models;

/// <summary>One view of a part within its blank.</summary>
/// <param name="Title">From where it is seen.</param>
/// <param name="Size">Finished size of the view, as text.</param>
/// <param name="Blank">Size of the blank in it, as text.</param>
/// <param name="BlankX">Blank to the right, mm.</param>
/// <param name="BlankY">Blank upward, mm.</param>
public sealed record ShadowView(string Title, Shadow Shadow, string Size, string Blank, double BlankX, double BlankY);

/// <summary>A part's shadow within its blank, from above and from the side.</summary>
public static class ShadowPicture
{
    private const double Width = 180;
    private const double Margin = 8;
    private const double Room = 110;

    private static readonly Tint Metal = Tint.Of(0x5B7C99);
    private static readonly Tint BlankTint = Tint.Of(0xF3EFE4);

    /// <summary>Cells along the longer side of a shadow.</summary>
    public const int Cells = 640;

    /// <summary>Writes <c>shadow-….png</c> of each part, all or none; returns their names.</summary>
    public static IReadOnlyList<string> Write(string folder, IReadOnlyList<(string FileName, string Title, IReadOnlyList<ShadowView> Views)> parts)
    {
        Directory.CreateDirectory(folder);
        return WholeFile.WriteAll(folder, [.. parts.Select(part => (part.FileName, PngFile.Bytes(Draw(part.Title, part.Views))))]);
    }

    internal static Scene Draw(string title, IReadOnlyList<ShadowView> views)
    {
        // One scale for both views, so that they belong together.
        var scale = Math.Min((Width - (2 * Margin)) / views.Max(view => view.BlankX), Room / views.Max(view => view.BlankY));
        var heights = views.Select(view => (view.BlankY * scale) + 18).ToList();
        var scene = new SceneBuilder(title, Width, 16 + heights.Sum() + 6);
        scene.Box(Layer.Page, scene.Area, Tint.White);
        scene.Text(Layer.Page, title, Margin, 10, 5, scene.Area, Face.Bold);
        var top = 16.0;
        for (var i = 0; i < views.Count; i++)
        {
            Draw(scene, views[i], top, scale);
            top += heights[i];
        }

        return scene.Build();
    }

    private static void Draw(SceneBuilder scene, ShadowView view, double top, double scale)
    {
        scene.Text(Layer.Label, $"{view.Title}: part {view.Size} (dashed), blank {view.Blank}", Margin, top + 4, 3.4, scene.Area);
        var blank = new Box(Margin, top + 7, view.BlankX * scale, view.BlankY * scale);
        scene.Box(Layer.Sheet, blank, BlankTint, new Stroke(PartLook.Ink, 0.4));
        var cell = view.Shadow.Cell * scale;
        var (wide, high) = (view.Shadow.Columns * cell, view.Shadow.Rows * cell);
        var (left, bottom) = (blank.CenterX - (wide / 2), blank.CenterY + (high / 2));
        scene.Lines(
            Layer.Piece,
            [.. view.Shadow.Runs.Select(run => new Segment(left + (run.From * cell), bottom - ((run.Row + 0.5) * cell), left + (run.To * cell), bottom - ((run.Row + 0.5) * cell)))],
            new Stroke(Metal, cell * 1.15));
        scene.Box(Layer.Cut, new Box(left, bottom - high, wide, high), null, new Stroke(PartLook.Ink, 0.25, 1.6));
    }
}
