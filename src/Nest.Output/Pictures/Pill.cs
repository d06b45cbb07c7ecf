using Nest.Output.Fonts;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Output.Pictures;

/// <summary>The number of a cut, or the numbers of a row of cuts, white on black: <c>3</c>, <c>4–12</c>. On a page that tells only some cuts
/// the others are grey.</summary>
internal static class Pill
{
    public const double Height = 4.8;

    private static readonly Tint Quiet = Tint.Of(0x808080);

    public static double Width(string numbers) => Math.Max(Height, FontBook.Width(numbers, Face.Bold, Print.Least) + 2);

    public static void Draw(SceneBuilder scene, string numbers, double centerX, double centerY, bool quiet = false)
    {
        var wide = Width(numbers);
        var box = new Box(centerX - (wide / 2), centerY - (Height / 2), wide, Height);
        scene.Box(Layer.Cut, box, quiet ? Quiet : Tint.Black);
        scene.Text(Layer.Cut, numbers, centerX, centerY + (FontBook.CapHeight * Print.Least / 2), Print.Least, box, Face.Bold, Align.Center, Tint.White);
        scene.Taken.ReplaceLast(box);
    }
}
