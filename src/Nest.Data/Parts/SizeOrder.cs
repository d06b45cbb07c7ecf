using System.Collections.Immutable;
using Nest.Core.Quantities;
using Nest.Data.Csv;
using Nest.Data.Tables;

namespace Nest.Data.Parts;

/// <summary>Finished size of a part from one text, and what each number was taken for.</summary>
internal readonly record struct PartSize(bool Round, Length Length, Length? Width, Length? Thickness);

/// <summary>Which number of a size is which: marks at the numbers say it, else the head, else what the column does throughout.</summary>
/// <remarks>Three numbers are thickness × width × length when the smallest comes first, length × width × thickness when it comes last;
/// what most rows of the column do holds for all. Two are diameter and length: the marked one, else of a round part the smaller one is
/// the diameter. Two without any mark are length × width where a column names the thickness.</remarks>
internal sealed class SizeOrder
{
    private const int MostVotes = 5000;

    private readonly bool thicknessFirst;
    private readonly bool known;

    private SizeOrder(bool thicknessFirst, bool known, string reason) => (this.thicknessFirst, this.known, Reason) = (thicknessFirst, known, reason);

    /// <summary>Why, for people; empty where the head says it or the column has no three bare numbers.</summary>
    public string Reason { get; }

    /// <summary>Order of three numbers in words.</summary>
    public string Words => thicknessFirst ? "thickness x width x length" : "length x width x thickness";

    public static SizeOrder Of(CsvTable table, Func<int, RawCell[], SizeReading> read)
    {
        if (!table.Has(PartColumns.Size))
        {
            return new(false, true, "");
        }

        var head = Nest.Data.Words.Fold(table.HeadOf(PartColumns.Size));
        if (head.Contains("txwxl", StringComparison.Ordinal) || head.Contains("lxwxt", StringComparison.Ordinal) || head.Contains("lxwxh", StringComparison.Ordinal) || head.Contains("lxbxh", StringComparison.Ordinal) || head.Contains("dickexbreitexlange", StringComparison.Ordinal))
        {
            return new(head.Contains("txwxl", StringComparison.Ordinal) || head.Contains("dickexbreite", StringComparison.Ordinal), true, "");
        }

        var (first, last) = (0, 0);
        foreach (var (line, cells) in table.Rows.Take(MostVotes))
        {
            if (read(line, cells).Items is { Length: 3 } items && items.All(item => item.Mark == SizeMark.None))
            {
                var (a, b, c) = (items[0].Length, items[1].Length, items[2].Length);
                first += a <= b && a < c ? 1 : 0;
                last += c <= b && c < a ? 1 : 0;
            }
        }

        return first + last == 0 ? new(false, true, "")
            : new(first > last, first != last, first == last ? "" : $"in {(first > last ? first : last)} of {first + last} rows the {(first > last ? "first" : "last")} number is the smallest");
    }

    /// <summary>Size of one part; null after a finding.</summary>
    /// <param name="isRound">Whether the row's form says that it is round; null: it says nothing.</param>
    public PartSize? Read(CsvRow row, ImmutableArray<SizeItem> items, bool? isRound)
    {
        const string column = PartColumns.Size;
        var text = row.Text(column);
        var diameter = items.FirstOrDefault(item => item.Mark == SizeMark.Diameter);
        switch (items.Length)
        {
            case 2 when diameter.Mark == SizeMark.Diameter:
                return new(true, (items[0].Mark == SizeMark.Diameter ? items[1] : items[0]).Length, diameter.Length, diameter.Length);
            case 2 when items.Any(item => item.Mark == SizeMark.Side):
                var side = items.First(item => item.Mark == SizeMark.Side);
                return new(false, (items[0].Mark == SizeMark.Side ? items[1] : items[0]).Length, side.Length, side.Length);
            case 2 when isRound == true:
                var (small, large) = items[0].Length <= items[1].Length ? (items[0], items[1]) : (items[1], items[0]);
                var labelled = items.FirstOrDefault(item => item.Mark == SizeMark.Length);
                (small, large) = labelled.Mark == SizeMark.Length ? (items[0] == labelled ? items[1] : items[0], labelled) : (small, large);
                if (labelled.Mark != SizeMark.Length)
                {
                    row.Doubt(column, "size-round", $"of {text} the smaller number, {small.Text}, is read as the diameter", "write dia or Ø at the diameter if it is the other one");
                }

                return new(true, large.Length, small.Length, small.Length);
            case 2 when row.Has("thickness"):
                return new(false, items[0].Length, items[1].Length, null);
            case 3:
                return Three(row, items, text);
            default:
                row.Error(
                    column, "size-unclear", $"{column} {text} has {Counted.Of(items.Length, "number", "numbers")}",
                    items.Length == 2 ? "write dia or Ø at the diameter of a round part, or give three numbers of a flat one" : "write three numbers of a flat part, or two of a round one with dia or Ø at the diameter");
                return null;
        }
    }

    private PartSize? Three(CsvRow row, ImmutableArray<SizeItem> items, string text)
    {
        if (items.Any(item => item.Mark is SizeMark.Diameter or SizeMark.Side))
        {
            row.Error(PartColumns.Size, "size-unclear", $"size {text} has three numbers and a mark of a round or square part", "write two numbers, such as 5/8 dia x 3-1/4, or three without the mark");
            return null;
        }

        if (Marked(items) is { } marked)
        {
            return marked;
        }

        var (thick, width, length) = thicknessFirst ? (items[0], items[1], items[2]) : (items[2], items[1], items[0]);
        if (!known)
        {
            // No order holds for the column: of each size the smallest number is the thickness.
            thick = items.MinBy(item => item.Length);
            var rest = items.Remove(thick);
            (length, width) = rest[0].Length >= rest[1].Length ? (rest[0], rest[1]) : (rest[1], rest[0]);
        }

        if (thick.Length > width.Length || thick.Length > length.Length)
        {
            row.Doubt(
                PartColumns.Size, "size-order", $"of {text} the {(thicknessFirst ? "first" : "last")} number, {thick.Text}, is read as the thickness, as in most rows, but it is not the smallest",
                "write the size in the order of the other rows, or thk at the thickness");
        }
        else if (!known)
        {
            row.Doubt(PartColumns.Size, "size-order", $"of {text} the smallest number, {thick.Text}, is read as the thickness", "write all sizes in one order, or thk at the thickness");
        }

        return new(false, length.Length, width.Length, thick.Length);
    }

    /// <summary>Three numbers of which one or more are marked; null: none is.</summary>
    private static PartSize? Marked(ImmutableArray<SizeItem> items)
    {
        var marks = items.Select(item => item.Mark).ToArray();
        if (marks.Count(mark => mark != SizeMark.None) != marks.Where(mark => mark != SizeMark.None).Distinct().Count() || Array.TrueForAll(marks, mark => mark == SizeMark.None))
        {
            return null;
        }

        SizeMark[] missing = [.. new[] { SizeMark.Length, SizeMark.Width, SizeMark.Thickness }.Where(mark => !marks.Contains(mark))];
        var bare = items.Where(item => item.Mark == SizeMark.None).ToList();
        // Bare numbers, the largest first, are what is missing of length, width, thickness.
        bare.Sort((a, b) => b.Length.CompareTo(a.Length));
        return new(false, Of(SizeMark.Length), Of(SizeMark.Width), Of(SizeMark.Thickness));

        Length Of(SizeMark mark) => items.FirstOrDefault(item => item.Mark == mark) is { Mark: not SizeMark.None } item
            ? item.Length
            : bare[Array.IndexOf(missing, mark)].Length;
    }
}
