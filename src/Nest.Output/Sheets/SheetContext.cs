using System.Globalization;
using Nest.Core.Costing;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Output.Texts;

namespace Nest.Output.Sheets;

/// <summary>A plan with what all its pictures and sheets share: numbers of parts, how sizes are written, texts, fingerprint.</summary>
internal sealed class SheetContext
{
    private readonly Dictionary<string, Part> _parts;
    private readonly Dictionary<string, int> _numbers;

    public SheetContext(Plan plan, OutputOptions options)
    {
        Plan = Shown(plan);
        Options = options;
        Lengths = options.Lengths ?? LengthFormat.For(plan.Job.Unit, plan.Job.InchFraction);
        Print = Fingerprint.Of(plan);
        _parts = plan.Job.Parts.ToDictionary(part => part.Id, StringComparer.Ordinal);

        // Only parts that are cut get numbers: they stay as small as can be.
        var cut = plan.Layouts.SelectMany(layout => layout.Pieces).Select(piece => piece.PartId).ToHashSet(StringComparer.Ordinal);
        _numbers = plan.Job.Parts.Where(part => cut.Contains(part.Id)).Select((part, index) => (part.Id, index))
            .ToDictionary(pair => pair.Id, pair => pair.index + 1, StringComparer.Ordinal);
    }

    /// <summary>The plan as it is drawn and told: an offcut has the raw edges that stay on it (<see cref="TrimmedEdges"/>), which its value
    /// does not count.</summary>
    public Plan Plan { get; }

    public Job Job => Plan.Job;

    public OutputOptions Options { get; }

    public SheetTexts Texts => Options.Texts;

    public LengthFormat Lengths { get; }

    public string Print { get; }

    public Part Part(string id) => _parts[id];

    public Stock StockOf(OrderLine line) => Job.Stocks.First(stock => stock.Id == line.StockId);

    /// <summary>Number of a part on all sheets, from 1 in the job's order.</summary>
    public int NumberOf(string partId) => _numbers[partId];

    public string Number(string partId) => Text(NumberOf(partId));

    /// <summary>What the rulers of a layout count from.</summary>
    public string RulerNote(Layout layout) => Fill(layout.Tree is null ? Texts.RulerNoteCutter : Texts.RulerNote, Lengths.UnitName);

    public static string Text(int number) => number.ToString(CultureInfo.InvariantCulture);

    public static string Fill(string text, params object[] values) => string.Format(CultureInfo.InvariantCulture, text, values);

    /// <summary>Head of a layout's page.</summary>
    /// <param name="place">In the order of work, from 1.</param>
    /// <param name="of">Layouts to cut.</param>
    public string HeadOf(int number, int place, int of) =>
        number == place ? Fill(Texts.LayoutToCut, number, of) : Fill(Texts.LayoutInOrder, number, place, of);

    public string Length(Length length, bool withUnit = true) => Options.Numbers.Localize(Lengths.Text(length, withUnit));

    /// <summary>A setting: a fraction that is not exact shows its error.</summary>
    public string Setting(Length length) => Options.Numbers.Localize(Lengths.TextWithError(length));

    /// <summary>Size of a piece as the part is named: length × width.</summary>
    public string SizeOf(PlacedPiece piece, Stock stock)
    {
        var (length, width) = piece.Turned ? (piece.Area.SizeY, piece.Area.SizeX) : (piece.Area.SizeX, piece.Area.SizeY);
        return stock.Form.IsBar() ? Length(piece.Area.SizeX) : Size(length, width);
    }

    public string Size(Length a, Length b) => Length(a, false) + " × " + Length(b, false);

    public string SizeOf(Rect area, Stock stock) => stock.Form.IsBar() ? Length(area.SizeX) : Size(area.SizeX, area.SizeY);

    public string SizeOf(Stock stock) => Options.Numbers.Localize(StockSize.Text(stock, Lengths));

    public string FormOf(Stock stock) => stock.Form switch
    {
        Form.Plate => Texts.Plate,
        Form.FlatBar => Texts.FlatBar,
        Form.SquareBar => Texts.SquareBar,
        Form.RoundBar => Texts.RoundBar,
        Form.HexBar => Texts.HexBar,
        Form.RoundTube => Texts.RoundTube,
        Form.RectangularTube => stock.Width == stock.Thickness ? Texts.SquareTube : Texts.RectangularTube,
        Form.Angle => Texts.AngleBar,
        Form.Channel => Texts.Channel,
        Form.Tee => Texts.Tee,
        _ => Texts.Profile,
    };

    /// <summary>A bar's section in short.</summary>
    public string SectionOf(Stock stock) => SectionText.Of(stock, length => Length(length, false));

    /// <summary>How many pieces of stock a layout is cut from: <c>2 plates alike</c>.</summary>
    public string CountOf(Layout layout) => (Plan.StockOf(layout).Form.IsBar(), layout.Count) switch
    {
        (false, 1) => Texts.OnePlate,
        (true, 1) => Texts.OneBar,
        (false, var many) => Fill(Texts.PlatesAlike, many),
        (true, var many) => Fill(Texts.BarsAlike, many),
    };

    public string MassOf(Mass mass) => Options.Numbers.Localize(MassText.Format(mass, Job.Unit));

    public string Amount(Money money) => $"{Job.Currency} {Options.Numbers.Amount(money)}";

    /// <summary>Share of the stock piece that becomes blanks, in percent.</summary>
    public static decimal YieldOf(Layout layout, Stock stock)
    {
        var blanks = layout.Pieces.Aggregate(Area.Zero, (sum, piece) => sum + piece.Area.Area);
        var whole = stock.Form.IsBar() ? stock.Length * layout.Sheet.SizeY : stock.Length * stock.Width;
        return whole == Area.Zero ? 0m : blanks.ShareOf(whole) * 100m;
    }

    public string Percent(decimal percent) => Options.Numbers.Number(percent, 1);

    /// <summary>Kept offcuts of a layout with their numbers: <c>3-1</c> is the first of layout 3.</summary>
    public static IEnumerable<(string Mark, Offcut Offcut, int Index)> Kept(Layout layout)
    {
        var number = 0;
        for (var index = 0; index < layout.Offcuts.Length; index++)
        {
            if (layout.Offcuts[index].Keep)
            {
                number++;
                yield return ($"{Text(layout.Number)}-{Text(number)}", layout.Offcuts[index], index);
            }
        }
    }

    private static Plan Shown(Plan plan) => plan with
    {
        Layouts = [.. plan.Layouts.Select(layout => layout.Tree is null || layout.Offcuts.IsEmpty ? layout : WithRawEdges(plan, layout))],
    };

    private static Layout WithRawEdges(Plan plan, Layout layout)
    {
        var trimmed = TrimmedEdges.Of(plan.SawOf(layout), plan.StockOf(layout), layout);
        return layout with { Offcuts = [.. layout.Offcuts.Select(offcut => offcut with { Area = trimmed.Metal(layout, offcut.Area) })] };
    }

    public static string KeepMark(Layout layout, int index) => Kept(layout).First(kept => kept.Index == index).Mark;
}
