using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Nest.Core.Geometry;

namespace Nest.Core.Plans;

/// <summary>Marks of a plan's content, from its SHA-256.</summary>
public static class Fingerprint
{
    // Thirty figures and letters that cannot be taken for each other (no 0 O 1 I L U).
    private const string Letters = "23456789ABCDEFGHJKMNPQRSTVWXYZ";

    /// <summary>Eight characters, printed everywhere: two sheets with the same mark belong to the same plan. Covers all that is cut, from
    /// what, by which saw, its cost and its bound.</summary>
    public static string Of(Plan plan)
    {
        var hash = SHA256.HashData(Encoding.UTF8.GetBytes(Canonical(plan)));
        var number = BitConverter.ToUInt64(BitConverter.IsLittleEndian ? hash[..8].Reverse().ToArray() : hash[..8]);
        var text = new char[8];
        for (var index = 0; index < text.Length; index++)
        {
            text[index] = Letters[(int)(number % (ulong)Letters.Length)];
            number /= (ulong)Letters.Length;
        }

        return new(text);
    }

    /// <summary>Recognises the same cutting planned or reserved twice: the same job's name, stocks, counts and placements, whatever the
    /// bound or the prices. 64 figures of base 16; racks store it.</summary>
    public static string OfCutting(Plan plan)
    {
        var text = new StringBuilder();
        text.Append(plan.Job.Name).Append('\n');
        foreach (var layout in plan.Layouts)
        {
            text.Append(CultureInfo.InvariantCulture, $"{layout.Number} {layout.StockId} {layout.Count}\n");
            foreach (var piece in layout.Pieces)
            {
                var at = piece.Area;
                text.Append(
                    CultureInfo.InvariantCulture,
                    $"{piece.PartId} {at.X.Nanometres} {at.Y.Nanometres} {at.SizeX.Nanometres} {at.SizeY.Nanometres}{Angles(piece.Ends)}\n");
            }
        }

        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())));
    }

    /// <summary>Angled ends; nothing where both are square.</summary>
    private static string Angles(Jobs.EndAngles? ends) => ends is null ? "" : string.Create(
        CultureInfo.InvariantCulture, $" {ends.Start.Thousandths}/{ends.End.Thousandths}{(ends.AcrossThickness ? " across thickness" : "")}");

    private static string Canonical(Plan plan)
    {
        var text = new StringBuilder();
        Line("job", plan.Job.Name, plan.Job.Currency, plan.Job.Batch);
        foreach (var shared in plan.Job.Together)
        {
            Line("together", shared.Name, shared.Sets);
        }

        foreach (var part in plan.Job.Parts)
        {
            Line("part", part.Id, part.MaterialId, part.Round, part.Length.Nanometres, part.Width.Nanometres, part.Thickness.Nanometres,
                part.Quantity, part.Extra, Angles(part.Ends));
            if (part.Gang is { } gang)
            {
                Line("gang", gang.Rows, gang.Columns, gang.Blanks, part.PerBlank?.Gap.Nanometres ?? 0);
            }

            if (part.Detail is { } asked)
            {
                Line("section", part.Forms, asked.Key);
            }
        }

        foreach (var layout in plan.Layouts)
        {
            var stock = plan.StockOf(layout);
            var saw = plan.SawOf(layout);
            Line("stock", stock.Id, stock.MaterialId, stock.Form, stock.Length.Nanometres, stock.Width.Nanometres, stock.Thickness.Nanometres);
            if (stock.Detail is { } detail)
            {
                Line("section", detail.Key);
            }

            Line("edges", stock.CleanEdges.Left, stock.CleanEdges.Right, stock.CleanEdges.Bottom, stock.CleanEdges.Top);
            foreach (var damage in stock.KeepOuts)
            {
                Line("damage", Of(damage));
            }

            Line("saw", saw.Id, saw.Kind, saw.Kerf.Nanometres, saw.ShortestHeld.Nanometres, saw.LargestCut?.Nanometres ?? 0, saw.MostPieces ?? 0,
                saw.Stages ?? 0, saw.TrimmingCut, saw.FirstCut is { } first ? first : "");
            Line("layout", layout.Number, layout.Count, Of(layout.Sheet), layout.Trims.Left.Nanometres, layout.Trims.Right.Nanometres,
                layout.Trims.Bottom.Nanometres, layout.Trims.Top.Nanometres, layout.Cost.Total.Units);
            foreach (var piece in layout.Pieces)
            {
                Line("piece", piece.PartId, Of(piece.Area), piece.Turned, Angles(piece.Ends));
                if (piece.Spare)
                {
                    Line("spare");
                }

            }

            foreach (var offcut in layout.Offcuts)
            {
                Line("offcut", Of(offcut.Area), offcut.Keep, offcut.Value.Units);
            }

            if (layout.Tree is { } tree)
            {
                Node(tree);
            }
        }

        foreach (var unplaced in plan.Unplaced)
        {
            Line("unplaced", unplaced.PartId, unplaced.Count);
        }

        Line("total", plan.TotalCost.Units, plan.Bound.Value is { } bound ? bound.Units : "", plan.Status);
        return text.ToString();

        void Node(CutNode node)
        {
            Line("node", node.Kind, Of(node.Area), node.Kind == CutNodeKind.Split ? node.Direction : "", node.Index);
            foreach (var child in node.Children)
            {
                Node(child);
            }

            Line("end");
        }

        void Line(params object[] fields)
        {
            // The length before each text keeps two fields from reading like one.
            foreach (var field in fields)
            {
                var value = Convert.ToString(field, CultureInfo.InvariantCulture) ?? "";
                text.Append(CultureInfo.InvariantCulture, $"{value.Length}:{value} ");
            }

            text.Append('\n');
        }

        static string Of(Rect rect) => string.Create(
            CultureInfo.InvariantCulture, $"{rect.X.Nanometres},{rect.Y.Nanometres},{rect.SizeX.Nanometres},{rect.SizeY.Nanometres}");
    }
}
