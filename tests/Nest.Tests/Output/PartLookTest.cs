using Nest.Output.Scenes;

namespace Nest.Tests.Output;

/// <summary>Parts are told apart on a grey print and by colour-blind readers: by the pattern, and where that is the same by the tint.</summary>
public sealed class PartLookTest
{
    // Weights of ITU-R BT.601 for grey; red-blindness and green-blindness after Viénot, Brettel, Mollon 1999, on linear light with
    // an exponent of 2.2 (all from memory).
    private static readonly (string Eye, Func<Tint, double[]> Sees)[] Eyes =
    [
        ("grey print", tint => [(0.299 * tint.Red) + (0.587 * tint.Green) + (0.114 * tint.Blue)]),
        ("green-blind", tint => Blind(tint, 0.29275, 0.70725, -0.02234)),
        ("red-blind", tint => Blind(tint, 0.11238, 0.88762, 0.00401)),
    ];

    [Fact]
    public void Fifty_six_parts_look_different_to_every_eye()
    {
        var looks = Enumerable.Range(1, 56).Select(Look).ToArray();
        var same = 0;
        for (var a = 0; a < looks.Length; a++)
        {
            for (var b = a + 1; b < looks.Length; b++)
            {
                if (looks[a].Pattern != looks[b].Pattern)
                {
                    continue;
                }

                same++;
                foreach (var (eye, sees) in Eyes)
                {
                    var (one, other) = (sees(looks[a].Tint), sees(looks[b].Tint));
                    Math.Sqrt(one.Zip(other).Sum(pair => Math.Pow(pair.First - pair.Second, 2)))
                        .Should().BeGreaterThan(8, $"parts {a + 1} and {b + 1}, which have one pattern, {eye}");
                }
            }
        }

        same.Should().BeGreaterThan(100);
    }

    [Fact]
    public void Black_type_is_read_on_every_tint()
    {
        // WCAG 2.2, 1.4.3: a contrast of 4.5; here 7, for dim light and worn glasses (1.4.6).
        foreach (var tint in Enumerable.Range(1, 7).Select(number => Look(number).Tint))
        {
            var light = (0.2126 * Linear(tint.Red)) + (0.7152 * Linear(tint.Green)) + (0.0722 * Linear(tint.Blue));
            ((light + 0.05) / 0.05).Should().BeGreaterThan(7);
        }
    }

    private static (Tint Tint, string Pattern) Look(int number)
    {
        var scene = new SceneBuilder("look", 40, 40);
        PartLook.Fill(scene, Layer.Piece, new Box(4, 4, 30, 30), number);
        var elements = scene.Build().Elements;
        return (elements.OfType<BoxElement>().First().Fill!.Value,
            string.Join('|', elements.Skip(1).OfType<LinesElement>().Select(lines => $"{lines.Stroke}: {string.Join(';', lines.Segments)}")));
    }

    private static double[] Blind(Tint tint, double red, double green, double shift)
    {
        var (r, g, b) = (Math.Pow(tint.Red / 255.0, 2.2), Math.Pow(tint.Green / 255.0, 2.2), Math.Pow(tint.Blue / 255.0, 2.2));
        var yellow = (red * r) + (green * g);
        return [Back(yellow), Back(yellow), Back((shift * r) - (shift * g) + b)];
    }

    private static double Back(double light) => 255 * Math.Pow(Math.Clamp(light, 0, 1), 1 / 2.2);

    private static double Linear(byte value)
    {
        var part = value / 255.0;
        return part <= 0.04045 ? part / 12.92 : Math.Pow((part + 0.055) / 1.055, 2.4);
    }
}
