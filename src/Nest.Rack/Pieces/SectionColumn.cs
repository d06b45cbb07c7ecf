using System.Globalization;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Rack.Pieces;

/// <summary>A section as the rack keeps it: <c>wall/flange/listed/name</c>, lengths in whole nanometres, the listed area in square nanometres; what is
/// not there is empty. The text of plate and solid bar is empty.</summary>
internal static class SectionColumn
{
    public static string Text(SectionDetail? detail, Area? listed) => detail is null ? "" : string.Create(
        CultureInfo.InvariantCulture, $"{detail.Wall?.Nanometres}/{detail.Flange?.Nanometres}/{listed?.SquareNanometres}/{detail.Name}");

    public static SectionDetail? Detail(string text) => text.Length == 0 || text.Split('/', 4) is not [var wall, var flange, _, var name] ? null : new()
    {
        Wall = LengthOf(wall), Flange = LengthOf(flange), Name = name.Length == 0 ? null : name,
    };

    public static Area? Listed(string text) => text.Length > 0 && text.Split('/', 4) is [_, _, { Length: > 0 } listed, _]
        ? Area.FromSquareNanometres(Int128.Parse(listed, CultureInfo.InvariantCulture)) : null;

    private static Length? LengthOf(string text) => text.Length == 0 ? null : Length.FromNanometres(long.Parse(text, CultureInfo.InvariantCulture));
}
