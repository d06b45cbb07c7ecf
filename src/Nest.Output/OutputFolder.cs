using Nest.Core.Cutting;
using Nest.Core.Plans;
using Nest.Output.Draw;
using Nest.Output.Files;
using Nest.Output.Folders;
using Nest.Output.Orders;
using Nest.Output.Pictures;
using Nest.Output.Sheets;
using Nest.Output.Tablet;
using Nest.Output.Texts;

namespace Nest.Output;

/// <summary>What was written.</summary>
/// <param name="Files">Names within the folder, in order.</param>
/// <param name="Removed">Files of an earlier plan that were taken away.</param>
public sealed record OutputResult(string Folder, IReadOnlyList<string> Files, IReadOnlyList<string> Removed);

/// <summary>All files of a plan: three for people on top (cut sheet, what to buy, tablet), the rest in <c>orders</c>, <c>pictures</c>, <c>drawings</c> and
/// <c>data</c>.</summary>
public static class OutputFolder
{
    /// <summary>Where the plan file is kept, within the folder.</summary>
    public const string PlanPlace = "data/plan.json";

    /// <summary>Writes everything, whole and at once (<see cref="FolderWriter"/>). The plan must have been checked before.</summary>
    /// <param name="further">Files beside those that are drawn here, the plan file above all: names within the folder, with <c>/</c>.</param>
    /// <param name="replace">Whether a plan that is in use may be replaced.</param>
    /// <param name="verify">Looks at the written files, in the folder that it gets, before they count; throws when one is not as it should be.</param>
    /// <exception cref="FolderException">The folder is in use, or holds files of somebody else; nothing was changed.</exception>
    public static OutputResult Write(
        Plan plan, string folder, OutputOptions options, IReadOnlyList<(string Name, byte[] Bytes)>? further = null, bool replace = false, Action<string>? verify = null) =>
        FolderWriter.For(folder).Write(
            Fingerprint.Of(plan), (further ?? []).Select(file => new FileMaker(() => [file])).Concat(Makers(plan, options)), replace, verify);

    /// <summary>Why a plan may not be written into a folder (the plan there is in use, files there are not a plan's); null: it may.</summary>
    public static string? WhyNot(string folder, bool replace) => FolderGuard.WhyNot(folder, replace);

    /// <summary>The files by name, made one by one.</summary>
    internal static IEnumerable<(string Name, byte[] Bytes)> Contents(Plan plan, OutputOptions options) =>
        Makers(plan, options).SelectMany(make => make());

    /// <summary>What makes the files, the longest work first. May be called from several threads.</summary>
    private static IEnumerable<FileMaker> Makers(Plan plan, OutputOptions options)
    {
        var context = new SheetContext(plan, options);
        var work = options.Work ?? CutSequencer.Order(plan);
        var papers = options.Papers.Distinct().ToArray();
        var paper = papers.Length > 0 ? papers[0] : Paper.A4;

        // Lists are for other programs: whatever mark people read on the sheets, their numbers and words have a point.
        var lists = new SheetContext(plan, options with { Numbers = NumberStyle.Invariant });
        foreach (var one in papers)
        {
            var name = papers.Length == 1 ? "cut-sheet.pdf" : one == Paper.A4 ? "cut-sheet-a4.pdf" : "cut-sheet-letter.pdf";
            yield return One(name, () => PdfFile.Bytes(CutSheet.Pages(context, work, one), plan.Job.Name, options.Date));
        }

        if (plan.Orders.Length > 0)
        {
            yield return One("buy.pdf", () => PdfFile.Bytes(BuyingSheet.Pages(context, paper), plan.Job.Name, options.Date));
        }

        yield return One("tablet.html", () => TabletPage.Bytes(context, work));
        for (var at = 0; at < plan.Orders.Length; at++)
        {
            var order = plan.Orders[at];
            var name = "orders/" + OrderSheet.NameOf(at + 1, order);
            yield return () =>
            [
                (name + ".pdf", PdfFile.Bytes(OrderSheet.Pages(context, order, paper), plan.Job.Name, options.Date)),
                (name + ".csv", CsvFile.Bytes(OrderSheet.Csv(lists, order))),
                (name + ".txt", OrderWords.Mail(context, order)),
            ];
        }

        yield return One("data/buy.csv", () => CsvFile.Bytes(PlanTables.Buy(lists)));
        yield return One("data/cuts.csv", () => CsvFile.Bytes(PlanTables.Cuts(lists, work)));
        yield return One("data/pieces.csv", () => CsvFile.Bytes(PlanTables.Pieces(lists)));
        yield return One("data/offcuts.csv", () => CsvFile.Bytes(PlanTables.Offcuts(lists)));
        yield return One("data/costs.csv", () => CsvFile.Bytes(PlanTables.Cost(lists)));
        yield return One("data/plan.xlsx", () => XlsxFile.Bytes(
        [
            PlanTables.Summary(lists, work), PlanTables.Buy(lists), PlanTables.Layouts(lists), PlanTables.Cuts(lists, work), PlanTables.Pieces(lists), PlanTables.Offcuts(lists),
            PlanTables.Cost(lists),
        ]));
        var pictures = options.WithoutPicture(plan) == 0;
        var sequences = work.Items.ToDictionary(item => item.Layout, item => item.Sequence);
        // Stock that comes cut to size is not sawn here, and a drawing of it would be a bare rectangle.
        foreach (var layout in context.Plan.Layouts.Where(layout => plan.StockOf(layout).CutFor is null))
        {
            if (pictures)
            {
                yield return () => Pictures(context, layout, sequences.GetValueOrDefault(layout.Number), options.PicturesAsSvg);
            }

            yield return () => Drawings(context, layout);
        }
    }

    private static FileMaker One(string name, Func<byte[]> make) => () => [(name, make())];

    private static List<(string Name, byte[] Bytes)> Pictures(SheetContext context, Layout layout, CutSequence? sequence, bool asSvg)
    {
        var files = new List<(string Name, byte[] Bytes)>();
        foreach (var scene in LayoutPicture.Pages(context, layout, sequence))
        {
            files.Add(($"pictures/{scene.Name}.png", PngFile.Bytes(scene)));
            if (asSvg)
            {
                files.Add(($"pictures/{scene.Name}.svg", SvgFile.Bytes(scene)));
            }
        }

        return files;
    }

    private static List<(string Name, byte[] Bytes)> Drawings(SheetContext context, Layout layout)
    {
        var drawing = Drawing.Of(context, layout);
        return [($"drawings/layout-{layout.Number:000}.dxf", DxfFile.Bytes(drawing)), ($"drawings/layout-{layout.Number:000}.svg", FullSizeSvg.Bytes(drawing))];
    }
}
