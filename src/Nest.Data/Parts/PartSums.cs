using Nest.Core.Jobs;
using Nest.Data.Tables;

namespace Nest.Data.Parts;

/// <summary>Adds up rows of one part, over all lists of a job.</summary>
internal static class PartSums
{
    /// <summary>One row a part; the same name with another size is an error.</summary>
    public static List<PartRow> AddUp(IEnumerable<PartRow> rows, int batch, FindingList findings)
    {
        var sums = new Dictionary<string, int>(StringComparer.OrdinalIgnoreCase);
        var parts = new List<PartRow>();
        foreach (var row in rows)
        {
            if (!sums.TryGetValue(row.Part.Id, out var at))
            {
                sums[row.Part.Id] = parts.Count;
                parts.Add(row);
                continue;
            }

            var first = parts[at];
            if (Difference(first.Part, row.Part) is { } difference)
            {
                findings.Error(
                    "part-twice", row.Where, $"the part '{row.Part.Id}' is already in row {first.Where.Row}, with {difference}",
                    "give the rows names of their own, or make them equal and their quantities are added up");
                continue;
            }

            parts[at] = Sum(first, row, batch, findings);
        }

        foreach (var part in parts.Where(part => part.Rows.Length > 1))
        {
            findings.Doubt(
                "part-added-up", part.Where, $"'{part.Part.Id}' is in {Counted.Rows([.. part.Rows.Select(row => row.Row)])}: {part.Part.Quantity} a set in all",
                "give the rows names of their own if they are different parts");
        }

        return parts;
    }

    private static PartRow Sum(PartRow first, PartRow second, int batch, FindingList findings)
    {
        var (a, b) = (first.Part, second.Part);
        var quantity = (long)a.Quantity + b.Quantity;
        if (quantity * batch > PartRowReader.MostPieces)
        {
            findings.Error("quantity-too-large", second.Where, $"the rows of '{a.Id}' add up to more than a million pieces", "check quantity and batch");
            return first;
        }

        var note = b.Note.Length == 0 || string.Equals(a.Note, b.Note, StringComparison.OrdinalIgnoreCase) ? a.Note : a.Note.Length == 0 ? b.Note : $"{a.Note}; {b.Note}";
        return first with
        {
            Part = a with
            {
                Quantity = (int)quantity,
                Extra = a.ExtraPercent is { } percent ? Part.Spares((int)quantity, batch, percent) : (int)Math.Min(PartRowReader.MostPieces, (long)a.Extra + b.Extra),
                Note = note.Length > TableLimits.Note ? a.Note : note,
            },
            FreeSpares = first.FreeSpares is null && second.FreeSpares is null ? null : Math.Min(PartRowReader.MostPieces, (first.FreeSpares ?? 0) + (second.FreeSpares ?? 0)),
            Rows = [.. first.Rows, second.Where],
        };
    }

    /// <summary>In what two rows of one name differ; null: their pieces may be added up.</summary>
    private static string? Difference(Part a, Part b) =>
        (a.Length, a.Width, a.Thickness, a.Round) != (b.Length, b.Width, b.Thickness, b.Round) ? "another size"
        : a.Detail?.Key != b.Detail?.Key ? "another section"
        : a.MaterialId != b.MaterialId ? "another material"
        : a.Forms != b.Forms || a.MayTurn != b.MayTurn || a.Lie != b.Lie || a.Holding != b.Holding || a.MillFaces != b.MillFaces || a.MillSides != b.MillSides ? "other forms, holding or faces"
        : a.Allowances != b.Allowances ? "other allowances"
        : a.Ends != b.Ends ? "other angles"
        : (a.MillMinutes, a.SetUpMinutes, a.SetUps) != (b.MillMinutes, b.SetUpMinutes, b.SetUps) ? "other minutes at the mill"
        : (a.OneStock, a.OneSize, a.Certificate) != (b.OneStock, b.OneSize, b.Certificate) ? "other rules for its stock"
        : a.PerBlank?.Key != b.PerBlank?.Key ? "another number per blank"
        : a.ExtraPercent != b.ExtraPercent ? "another percentage of spares"
        : null;
}
