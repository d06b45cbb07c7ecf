using System.Globalization;
using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Csv;

namespace Nest.Data.Parts;

/// <summary>Reads how many of a part may be milled from one blank: <c>1</c>, <c>4</c>, <c>2-6</c>, <c>1, 4</c> or <c>any</c>, and the gap between them.</summary>
internal static class GangCells
{
    public const string Count = "per blank";
    public const string Gap = "gap between";
    public const string With = "per blank with";

    /// <summary>Null: the row does not say, or after a finding.</summary>
    public static PerBlank? Read(CsvRow row)
    {
        var text = row.Text(Count);
        if (text.Length == 0)
        {
            if (row.Has(Gap) || row.Has(With))
            {
                row.Error(row.Has(Gap) ? Gap : With, "per-blank-missing", "the row tells how parts lie in a blank, but not how many", "fill in 'per blank', or leave this empty");
            }

            return null;
        }

        var counts = new SortedSet<int>();
        foreach (var item in Words.Fold(text) is "any" or "beliebig" ? [] : text.Split([',', ';', '+', '/', ' '], StringSplitOptions.RemoveEmptyEntries))
        {
            var ends = item.Replace('–', '-').Split('-');
            if (ends.Length > 2 || !IsCount(ends[0], out var from) || !IsCount(ends[^1], out var to) || from > to)
            {
                row.Error(Count, "per-blank-unreadable", $"per blank is '{text}'", string.Create(CultureInfo.InvariantCulture, $"write a number up to {GangOptions.MostPerBlank}, several as 1, 4, a range as 2-6, or any"));
                return null;
            }

            counts.UnionWith(Enumerable.Range(from, to - from + 1));
        }

        var gap = row.Distance(Gap);
        return new() { Counts = [.. counts], Gap = gap ?? Length.Zero, With = row.Has(With) ? row.Name(With) : null };
    }

    private static bool IsCount(string text, out int count) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out count) && count is > 0 and <= GangOptions.MostPerBlank;
}
