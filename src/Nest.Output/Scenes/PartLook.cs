namespace Nest.Output.Scenes;

/// <summary>How a part looks on all pictures of a plan: a light tint and small marks, so that colour-blind readers and grey
/// prints tell neighbours apart. Diagonals are left to offcuts and scrap.</summary>
internal static class PartLook
{
    public static readonly Tint Ink = Tint.Of(0x1B1F24);

    /// <summary>Kept offcuts: white with bold diagonals of this colour.</summary>
    public static readonly Tint Keep = Tint.Of(0x0A6B58);

    public static readonly Tint Scrap = Tint.Of(0xDDDDDD);

    public static readonly Tint ScrapLines = Tint.Of(0x8C8C8C);

    /// <summary>What the saw turns into chips.</summary>
    public static readonly Tint Kerf = Tint.Of(0x2B2B2B);

    public static readonly Tint KeepOut = Tint.Of(0xB3261E);

    public static readonly Tint Reference = Tint.Of(0x9A3412);

    // Seven tints (eight steps of 255 and more apart in lightness, neighbours twenty) and eight patterns: 56 looks before one comes back.
    private static readonly Tint[] Tints =
    [
        Tint.Of(0xFBF3D6), Tint.Of(0xA9CDE9), Tint.Of(0xF6CFC8), Tint.Of(0xA9CBA9), Tint.Of(0xE6E1F4), Tint.Of(0xF7C98C), Tint.Of(0xA3B4C2),
    ];

    private static readonly Tint Lines = Tint.Of(0x6D7780);

    public static void Fill(SceneBuilder scene, Layer layer, Box box, int number)
    {
        var index = Math.Max(0, number - 1);
        scene.Box(layer, box, Tints[index % Tints.Length], new Stroke(Ink, 0.18));
        var inner = box.Shrink(0.25);
        if (inner.Width <= 0.4 || inner.Height <= 0.4)
        {
            return;
        }

        // No pattern has a direction: parallel lines on a plate would look like the way it was rolled.
        var mark = (index % 8) switch
        {
            1 => Marks.Of(inner, 2.4, Mark.Dot),
            2 => Marks.Of(inner, 3.2, Mark.Plus),
            3 => Marks.Of(inner, 1.5, Mark.Dot),
            4 => Marks.Of(inner, 3.2, Mark.Square),
            5 => Marks.Of(inner, 2.6, Mark.Cross),
            6 => Marks.Of(inner, 4.0, Mark.Ring),
            7 => Marks.Of(inner, 1.9, Mark.Plus),
            _ => [],
        };
        if (mark.Count > 0)
        {
            scene.Lines(layer, mark, new Stroke(Lines, index % 8 is 1 or 3 ? 0.35 : 0.16));
        }
    }

    /// <summary>Whether texts on this part need a plain ground.</summary>
    public static bool HasPattern(int number) => (number - 1) % 8 != 0;

    public static void FillKeep(SceneBuilder scene, Box box)
    {
        scene.Box(Layer.Offcut, box, Tint.White);
        scene.Lines(Layer.Offcut, Hatch.Diagonal(box, 2.6), new Stroke(Keep, 0.4));
        scene.Box(Layer.Offcut, box.Width > 1.6 && box.Height > 1.6 ? box.Shrink(0.35) : box, null, new Stroke(Keep, 0.6, 2.2));
    }

    public static void FillScrap(SceneBuilder scene, Box box, bool fine = false)
    {
        scene.Box(Layer.Scrap, box, Scrap);
        var spacing = fine ? 1.4 : 2.2;
        scene.Lines(Layer.Scrap, Hatch.Diagonal(box, spacing), new Stroke(ScrapLines, 0.12));
        scene.Lines(Layer.Scrap, Hatch.Diagonal(box, spacing, falling: true), new Stroke(ScrapLines, 0.12));
    }
}
