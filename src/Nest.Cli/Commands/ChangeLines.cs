using System.Globalization;
using Nest.Cli.Commands.Rack;
using Nest.Core.Quantities;
using Nest.Rack.Plans;

namespace Nest.Cli.Commands;

/// <summary>A change order in words: what is to add, what is too much, what no longer fits; and what was bought and is not needed.</summary>
internal static class ChangeLines
{
    /// <summary>Nothing where the job is the one that the plan was made for.</summary>
    public static void Write(TextWriter writer, string plan, IReadOnlyCollection<PartAgainst> against, LengthFormat format)
    {
        if (!against.Any(part => part.Changed))
        {
            return;
        }

        writer.WriteLine($"change order against {plan}:");
        foreach (var part in against.Where(part => part.Changed))
        {
            writer.WriteLine($"  {part.PartId}: {string.Join("; ", Words(part, format))}");
        }
    }

    /// <summary>Pieces that are paid for and that no layout uses, by what they were bought as; empty where all are used.</summary>
    public static string TooMuch(IEnumerable<PaidPiece> paid, IEnumerable<string?> used)
    {
        var taken = used.OfType<string>().ToHashSet(StringComparer.Ordinal);
        return string.Join(", ", paid.Where(piece => !taken.Contains(piece.Mark)).GroupBy(piece => piece.StockId, StringComparer.Ordinal)
            .Select(group => string.Create(CultureInfo.InvariantCulture, $"{group.Count()} × {group.Key} ({string.Join(' ', group.Select(piece => piece.Mark))})")));
    }

    private static IEnumerable<string> Words(PartAgainst part, LengthFormat format)
    {
        yield return (part.Before, part.Now) switch
        {
            (null, var now) => string.Create(CultureInfo.InvariantCulture, $"new, {now} wanted"),
            ({ } before, 0) => string.Create(CultureInfo.InvariantCulture, $"no longer in the job ({before} were wanted)"),
            ({ } before, var now) when before != now => string.Create(CultureInfo.InvariantCulture, $"{now} wanted instead of {before}"),
            (_, var now) => string.Create(CultureInfo.InvariantCulture, $"{now} wanted"),
        };
        if (part.Was is { } was)
        {
            yield return $"it was {Size(was, format)} {was.MaterialId}";
        }

        if (part.Made > 0)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"{part.Made} made");
        }

        if (part.NoLongerFit > 0)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"{part.NoLongerFit} of them no longer fit{(part.NoLongerFit == 1 ? "s" : "")}");
        }
        else if (part.Was is not null && part.Made > 0)
        {
            yield return "their blanks are large enough";
        }

        if (part.TooMany > 0)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"{part.TooMany} too many");
        }

        if (part.Now > 0)
        {
            yield return part.ToMake > 0 ? string.Create(CultureInfo.InvariantCulture, $"{part.ToMake} to make") : "none to make";
        }
    }

    private static string Size(PartShape shape, LengthFormat format)
    {
        string[] sides = shape.Round
            ? ["Ø " + Bare(shape.Width), LengthText.Format(shape.Length, format)]
            : [Bare(shape.Length), Bare(shape.Width), LengthText.Format(shape.Thickness, format)];
        return string.Join(" × ", sides) + (shape.MayTurn ? "" : ", not turned") + (shape.Ends is null ? "" : ", angled ends");

        string Bare(Length value) => LengthText.Format(value, format, withUnit: false);
    }
}
