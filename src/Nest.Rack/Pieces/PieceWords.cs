using System.Globalization;
using Nest.Core.Geometry;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack.Exchange;

namespace Nest.Rack.Pieces;

/// <summary>What became different of a piece, in words: for the history (always in millimetres) and for the answer on the screen.</summary>
public static class PieceWords
{
    /// <summary>One phrase for each thing that changed.</summary>
    public static IEnumerable<string> Changed(RackPiece before, RackPiece after, LengthFormat format)
    {
        if (!string.Equals(before.MaterialId, after.MaterialId, StringComparison.OrdinalIgnoreCase))
        {
            yield return $"material {before.MaterialId} → {after.MaterialId}";
        }

        if ((before.Length, before.Width, before.Thickness) != (after.Length, after.Width, after.Thickness))
        {
            yield return $"size {Three(before.Length, before.Width, before.Thickness)} → {Three(after.Length, after.Width, after.Thickness)}";
        }

        if ((before.UsableLength, before.UsableWidth, before.UsableThickness) != (after.UsableLength, after.UsableWidth, after.UsableThickness))
        {
            yield return $"smallest size → {Three(after.UsableLength, after.UsableWidth, after.UsableThickness)}";
        }

        foreach (var (name, old, now) in new[]
        {
            ("rolling direction", RackTable.RollingWord(before.Rolling), RackTable.RollingWord(after.Rolling)),
            ("clean edges", RackTable.Edges(before.CleanEdges), RackTable.Edges(after.CleanEdges)),
            ("good faces", RackTable.YesNo(before.GoodFaces), RackTable.YesNo(after.GoodFaces)),
            ("heat", Quoted(before.Heat), Quoted(after.Heat)), ("certificate", Quoted(before.Certificate), Quoted(after.Certificate)),
            ("supplier", Quoted(before.Supplier), Quoted(after.Supplier)), ("origin", Quoted(before.Origin), Quoted(after.Origin)),
            ("value", before.Value.ToString(), after.Value.ToString()),
            ("condition", RackTable.ConditionWord(before.Condition), RackTable.ConditionWord(after.Condition)),
            ("note", Quoted(before.Note), Quoted(after.Note)),
        })
        {
            if (old != now)
            {
                yield return $"{name} {old} → {now}";
            }
        }

        if (Damage(before, after, format) is { } damage)
        {
            yield return damage;
        }

        string Three(Length a, Length b, Length c) => $"{format.Text(a)} × {format.Text(b)} × {format.Text(c)}";

        static string Quoted(string text) => $"'{text}'";
    }

    /// <summary>What a change of size took with it or left alone without being asked, to be said beside the answer.</summary>
    public static IEnumerable<string> Notes(RackPiece before, RackPiece after, bool valueGiven, LengthFormat format)
    {
        foreach (var (name, old, now) in new[]
        {
            ("length", before.MinLength, after.MinLength), ("width", before.MinWidth, after.MinWidth), ("thickness", before.MinThickness, after.MinThickness),
        })
        {
            if (old is { } measured && now is null)
            {
                yield return $"the smallest {name} that was measured, {format.Text(measured)}, went with the old {name}; --min-{name} enters a new one";
            }
        }

        if (before.Micrograms != after.Micrograms && !valueGiven && after.Value > Money.Zero)
        {
            yield return $"the value stays {after.Value}; --value changes it";
        }
    }

    /// <summary>"1 damaged area", "2 damaged areas".</summary>
    public static string Areas(int count) => string.Create(CultureInfo.InvariantCulture, $"{count} damaged area{(count == 1 ? "" : "s")}");

    private static string? Damage(RackPiece before, RackPiece after, LengthFormat format)
    {
        if (before.KeepOuts.SequenceEqual(after.KeepOuts))
        {
            return null;
        }

        var (off, added) = (before.KeepOuts.Except(after.KeepOuts).ToList(), after.KeepOuts.Except(before.KeepOuts).ToList());
        string[] parts =
        [
            .. off.Count == 0 ? [] : new[] { $"damage {All(off)} taken off" },
            .. added.Count == 0 ? [] : new[] { $"damage {All(added)} added" },
            after.KeepOuts.Length == 0 ? "no damage now" : $"{Areas(after.KeepOuts.Length)} now",
        ];
        return string.Join(", ", parts);

        string All(IEnumerable<Rect> areas) => string.Join(" and ", areas.Select(area =>
            $"{format.Text(area.SizeX, withUnit: false)} × {format.Text(area.SizeY, withUnit: false)} at {format.Text(area.X, withUnit: false)}, {format.Text(area.Y)}"));
    }
}
