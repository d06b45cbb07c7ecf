using Nest.Output.Fonts;

namespace Nest.Output.Rack;

/// <summary>A line of a label.</summary>
/// <param name="Cap">Height of a capital letter, millimetres.</param>
internal readonly record struct LabelLine(string Text, Face Face, double Cap)
{
    /// <summary>From the foot of the line above to its own.</summary>
    public double Step => Cap * (Tight ? 1.2 : 1.35);

    /// <summary>With less between the lines, where there is no other way.</summary>
    public bool Tight { get; init; }
}

/// <summary>The lines under a label's mark: size, material and heat always, the rest where there is room.</summary>
/// <remarks>Size, material and heat are traceability: they are made smaller, and broken in two before any of
/// them is left out, and none is ever cut off.</remarks>
/// <param name="IsWhole">Size, material and heat are all there.</param>
internal sealed record LabelLines(IReadOnlyList<LabelLine> Lines, bool LacksHeat, bool IsWhole)
{
    /// <summary>Smallest capital height of anything on a label that has room, millimetres.</summary>
    public const double Least = 1.6;

    // On the smallest labels; about 5 point.
    private const double Tiny = 1.3;

    // Of a close reader's line to one read at arm's length.
    private const double Close = 0.58;

    /// <summary>The lines for this room.</summary>
    /// <param name="cap">Capital height wanted for size and material.</param>
    public static LabelLines For(LabelContent label, double width, double height, double cap)
    {
        var material = label.Remark.Length == 0 ? label.Material : $"{label.Material}, {label.Remark}";
        var heat = label.Heat.Length == 0 ? "" : $"heat {label.Heat}";
        for (var scale = 1.0; ; scale -= 0.05)
        {
            var large = Math.Max(Least, cap * scale);
            var small = Math.Max(Least, Math.Min(large, cap * Close));
            if (Try([(label.Size, Face.Bold, large), (material, Face.Regular, large), (heat, Face.Regular, small)]) is { } lines)
            {
                return new([.. lines, .. Rest(lines, small)], LacksHeat: false, IsWhole: true);
            }

            if (large <= Least)
            {
                break;
            }
        }

        foreach (var tiny in new[] { Least, (Least + Tiny) / 2, Tiny })
        {
            foreach (var joined in heat.Length == 0 ? [material] : new[] { $"{material} {heat}", $"{material} · {label.Heat}" })
            {
                if (Try([(label.Size, Face.Bold, tiny), (joined, Face.Regular, tiny)], Tiny) is { } tight)
                {
                    return new(tight, LacksHeat: false, IsWhole: true);
                }
            }
        }

        // What has room from the top; the caller says what has not.
        var texts = new[] { (label.Size, Face.Bold, Tiny), (material, Face.Regular, Tiny) };
        return new(Try(texts, Tiny) ?? Try(texts[..1], Tiny) ?? [], heat.Length > 0, IsWhole: false);

        List<LabelLine>? Try(IEnumerable<(string Text, Face Face, double Cap)> wanted, double least = Least)
        {
            var lines = new List<LabelLine>();
            foreach (var (text, face, wish) in wanted.Where(line => line.Text.Length > 0))
            {
                if (Broken(text, face, wish, width, least) is not { } broken)
                {
                    return null;
                }

                lines.AddRange(broken.Select(line => line with { Tight = least < Least }));
            }

            return Height(lines) <= height + 1e-6 ? lines : null;
        }

        IEnumerable<LabelLine> Rest(List<LabelLine> above, double small)
        {
            var used = Height(above);
            foreach (var detail in label.Details.Where(detail => detail.Length > 0))
            {
                var fitting = Fitted(detail, Face.Regular, small, width, Least);
                var line = new LabelLine(detail, Face.Regular, fitting ?? Least);
                used += line.Step;
                if (used > height + 1e-6)
                {
                    yield break;
                }

                yield return line;
            }
        }
    }

    private static double Height(List<LabelLine> lines) => lines.Sum(line => line.Step) + (lines.Count == 0 ? 0 : 0.05 * lines[^1].Cap);

    /// <summary>In one line, or in two where it would be smaller than two thirds; null when it fits in neither.</summary>
    private static IReadOnlyList<LabelLine>? Broken(string text, Face face, double cap, double width, double least)
    {
        if (Fitted(text, face, cap, width, Math.Max(least, cap * 2 / 3)) is { } fitted)
        {
            return [new(text, face, fitted)];
        }

        // A size is broken before its last number, everything else where it reads on.
        var at = text.LastIndexOf(" × ", StringComparison.Ordinal);
        at = at > 0 ? at : text.LastIndexOf(' ', Math.Min(text.Length - 1, (text.Length / 2) + 3));
        if (at <= 0)
        {
            return Fitted(text, face, cap, width, least) is { } small ? [new(text, face, small)] : null;
        }

        return Fitted(text[..at], face, cap, width, least) is { } first && Fitted(text[(at + 1)..], face, cap, width, least) is { } second
            ? [new(text[..at], face, Math.Min(first, second)), new(text[(at + 1)..], face, Math.Min(first, second))]
            : null;
    }

    /// <summary>The capital height up to <paramref name="cap"/> at which the text is not wider; null when that is below the least.</summary>
    private static double? Fitted(string text, Face face, double cap, double width, double least)
    {
        var wide = FontBook.Width(text, face, cap / FontBook.CapHeight);
        var fitted = wide > width ? cap * width / wide * 0.999 : cap;
        return fitted >= least - 1e-9 ? fitted : null;
    }
}
