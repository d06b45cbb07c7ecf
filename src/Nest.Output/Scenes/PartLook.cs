namespace Nest.Output.Scenes;

/// <summary>How a part looks on all pictures of a plan: a light tint and small marks, so that colour-blind readers and grey
/// prints tell neighbours apart. Diagonals are left to offcuts and scrap.</summary>
internal static class PartLook
{
    public static readonly Tint Ink = Tint.Of(0x1B1F24);

    /// <summary>Kept offcuts: their border and their words.</summary>
    public static readonly Tint Keep = Tint.Of(0x0A5848);

    public static readonly Tint KeepLines = Tint.Of(0xC4E2D8);

    public static readonly Tint Scrap = Tint.Of(0xEBEBEB);

    public static readonly Tint ScrapLines = Tint.Of(0xC2C2C2);

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

    /// <summary>Height of the band of marks along the lower edge of a piece; its label stands above.</summary>
    private const double Band = 3.4;

    /// <summary>Tint and, where there is room beside a label, a band of marks: never below letters.</summary>
    public static void Fill(SceneBuilder scene, Layer layer, Box box, int number)
    {
        var index = Math.Max(0, number - 1);
        scene.Box(layer, box, Tints[index % Tints.Length], new Stroke(Ink, 0.18));
        if (!HasBand(box))
        {
            return;
        }

        // No pattern has a direction: parallel lines on a plate would look like the way it was rolled.
        var inner = Box.FromEdges(box.X, box.Bottom - Band, box.Right, box.Bottom).Shrink(0.25);
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

    /// <summary>Where the label of a piece may stand.</summary>
    public static Box LabelRoom(Box box, int number) =>
        HasBand(box) && (number - 1) % 8 != 0 ? box with { Height = box.Height - Band } : box;

    // A tenth of a sheet's pieces are so low that marks would leave no room for a label.
    private static bool HasBand(Box box) => box.Height >= 11.5 && box.Width >= 6;

    /// <summary>White with a quiet hatch, on which type is read.</summary>
    public static void FillKeep(SceneBuilder scene, Box box)
    {
        scene.Box(Layer.Offcut, box, Tint.White);
        scene.Lines(Layer.Offcut, Hatch.Diagonal(box, 4), new Stroke(KeepLines, 0.25));
        scene.Box(Layer.Offcut, box.Width > 1.6 && box.Height > 1.6 ? box.Shrink(0.35) : box, null, new Stroke(Keep, 0.4, 2.2));
    }

    public static void FillScrap(SceneBuilder scene, Box box)
    {
        scene.Box(Layer.Scrap, box, Scrap);
        scene.Lines(Layer.Scrap, Hatch.Diagonal(box, 2.2, falling: true), new Stroke(ScrapLines, 0.15));
    }
}
