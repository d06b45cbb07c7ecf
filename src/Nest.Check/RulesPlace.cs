using Nest.Core.Geometry;
using Nest.Core.Quantities;

namespace Nest.Check;

/// <summary>Pieces lie inside, apart, and beside damaged areas.</summary>
internal static class RulesPlace
{
    /// <summary>Pieces and offcuts lie within the trims.</summary>
    public static void Inside(PlanFacts facts, LayoutFacts one)
    {
        var sheet = one.Layout.Sheet;
        var trims = one.Layout.Trims;
        for (var index = 0; index < one.Layout.Pieces.Length; index++)
        {
            if (!Within(one.Layout.Pieces[index].Area))
            {
                facts.Add("outside-usable", one.Piece(index), "reaches beyond the edge or into a trim");
            }
        }

        for (var index = 0; index < one.Layout.Offcuts.Length; index++)
        {
            if (!Within(one.Layout.Offcuts[index].Area))
            {
                facts.Add("outside-usable", one.Offcut(index), "reaches beyond the edge or into a trim");
            }
        }

        bool Within(Rect area) =>
            area.X >= trims.Left && area.Y >= trims.Bottom
            && area.X + area.SizeX <= sheet.SizeX - trims.Right && area.Y + area.SizeY <= sheet.SizeY - trims.Top;
    }

    /// <summary>Between any two pieces, and between pieces and offcuts, lies at least one kerf, in X or in Y.</summary>
    /// <remarks>Each rectangle is made larger by a kerf to the right and to the top; two rectangles are a kerf apart exactly when
    /// the larger ones don't overlap. A sweep along X keeps the open rectangles sorted by Y; as long as those don't overlap
    /// (one that does is reported and left out), a new one can only meet its two neighbours.</remarks>
    public static void Apart(PlanFacts facts, LayoutFacts one)
    {
        var layout = one.Layout;
        var pieces = layout.Pieces.Length;
        var count = pieces + layout.Offcuts.Length;
        var starts = Enumerable.Range(0, count).OrderBy(index => Area(index).X).ThenBy(index => index).ToArray();
        var ends = new PriorityQueue<int, Length>();
        // Numbers count from 1 here, so that the default value means none.
        var open = new SortedSet<(Length Y, int Number)>();
        var kerf = one.Saw.Kerf;
        foreach (var index in starts)
        {
            var area = Area(index);
            while (ends.TryPeek(out var ended, out var end) && end <= area.X)
            {
                ends.Dequeue();
                open.Remove((Area(ended).Y, ended + 1));
            }

            if (Met(index, area) is { } other)
            {
                Report(index, other);
                continue;
            }

            open.Add((area.Y, index + 1));
            ends.Enqueue(index, area.X + area.SizeX + kerf);
        }

        Rect Area(int index) => index < pieces ? layout.Pieces[index].Area : layout.Offcuts[index - pieces].Area;

        int? Met(int index, Rect area)
        {
            var below = open.GetViewBetween((Length.Zero, 0), (area.Y, int.MaxValue)).Max.Number;
            if (below > 0 && Area(below - 1) is var lower && lower.Y + lower.SizeY + kerf > area.Y)
            {
                return below - 1;
            }

            var above = open.GetViewBetween((area.Y, 0), (Length.MaxValue, int.MaxValue)).Min.Number;
            return above > 0 && area.Y + area.SizeY + kerf > Area(above - 1).Y ? above - 1 : null;
        }

        void Report(int index, int other)
        {
            var overlap = Overlap(Area(index), Area(other));
            var withOffcut = index >= pieces || other >= pieces;
            var rule = (overlap, withOffcut) switch
            {
                (true, false) => "overlap",
                (true, true) => "offcut-overlap",
                (false, false) => "kerf-too-narrow",
                (false, true) => "offcut-kerf",
            };
            facts.Add(rule, Name(index), overlap ? $"overlaps {Name(other)}" : $"is less than the kerf of {kerf} apart from {Name(other)}");
        }

        string Name(int index) => index < pieces ? one.Piece(index) : one.Offcut(index - pieces);
    }

    /// <summary>Whether two rectangles have a point inside both: neither lies wholly to one side of the other.</summary>
    private static bool Overlap(Rect a, Rect b) =>
        !(a.X + a.SizeX <= b.X || b.X + b.SizeX <= a.X || a.Y + a.SizeY <= b.Y || b.Y + b.SizeY <= a.Y);

    /// <summary>No piece touches a damaged area; a cutter keeps its gap to it.</summary>
    public static void KeepOuts(PlanFacts facts, LayoutFacts one)
    {
        var gap = one.Cutter ? one.Saw.Kerf : Length.Zero;
        foreach (var keepOut in one.Stock.KeepOuts)
        {
            var forbidden = new Rect(keepOut.X - gap, keepOut.Y - gap, keepOut.SizeX + gap + gap, keepOut.SizeY + gap + gap);
            for (var index = 0; index < one.Layout.Pieces.Length; index++)
            {
                if (Overlap(one.Layout.Pieces[index].Area, forbidden))
                {
                    facts.Add("keep-out-touched", one.Piece(index), $"lies on the damaged area at {keepOut.X}, {keepOut.Y}");
                }
            }
        }
    }
}
