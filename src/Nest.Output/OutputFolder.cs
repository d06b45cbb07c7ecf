using System.Text.RegularExpressions;
using Nest.Core.Cutting;
using Nest.Core.Plans;
using Nest.Output.Draw;
using Nest.Output.Files;
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

/// <summary>Writes all files of a plan for people: pictures, cut sheets, tables, drawings.</summary>
public static partial class OutputFolder
{
    /// <summary>Writes everything. The plan must have been checked before.</summary>
    /// <remarks>All files are made first and written to temporary names, then moved: a full disk leaves the earlier plan whole. Files
    /// of an earlier plan, its quote too, are removed only when their names are ours.</remarks>
    public static OutputResult Write(Plan plan, string folder, OutputOptions options)
    {
        Directory.CreateDirectory(folder);
        var written = WholeFile.WriteAll(folder, Contents(plan, options));
        var removed = Directory.EnumerateFiles(folder).Select(path => Path.GetFileName(path)!)
            .Where(name => IsOurs(name) && !written.Contains(name)).Order(StringComparer.Ordinal).ToArray();
        foreach (var name in removed)
        {
            File.Delete(Path.Combine(folder, name));
        }

        return new(folder, written, removed);
    }

    /// <summary>The files by name, made one by one.</summary>
    internal static IEnumerable<(string Name, byte[] Bytes)> Contents(Plan plan, OutputOptions options)
    {
        var context = new SheetContext(plan, options);
        var work = options.Work ?? CutSequencer.Order(plan);

        // Lists are for other programs: whatever mark people read on the sheets, their numbers and words have a point.
        var lists = new SheetContext(plan, options with { Numbers = NumberStyle.Invariant });
        yield return ("buy.csv", CsvFile.Bytes(PlanTables.Buy(lists)));
        yield return ("cuts.csv", CsvFile.Bytes(PlanTables.Cuts(lists, work)));
        yield return ("pieces.csv", CsvFile.Bytes(PlanTables.Pieces(lists)));
        yield return ("offcuts.csv", CsvFile.Bytes(PlanTables.Offcuts(lists)));
        yield return ("plan.xlsx", XlsxFile.Bytes(
        [
            PlanTables.Buy(lists), PlanTables.Layouts(lists), PlanTables.Cuts(lists, work), PlanTables.Pieces(lists), PlanTables.Offcuts(lists),
            PlanTables.Cost(lists),
        ]));
        yield return ("tablet.html", TabletPage.Bytes(context, work));
        foreach (var paper in options.Papers.Distinct())
        {
            var name = paper == Paper.A4 ? "cut-sheet-a4.pdf" : "cut-sheet-letter.pdf";
            yield return (name, PdfFile.Bytes(CutSheet.Pages(context, work, paper), plan.Job.Name, options.Date));
        }

        if (plan.Orders.Length > 0)
        {
            yield return ("buy.pdf", PdfFile.Bytes(BuyingSheet.Pages(context, options.Papers.Count > 0 ? options.Papers[0] : Paper.A4), plan.Job.Name, options.Date));
        }

        for (var at = 0; at < plan.Orders.Length; at++)
        {
            var name = OrderSheet.NameOf(at + 1, plan.Orders[at]);
            yield return (name + ".csv", CsvFile.Bytes(OrderSheet.Csv(lists, plan.Orders[at])));
            yield return (name + ".pdf", PdfFile.Bytes(OrderSheet.Pages(context, plan.Orders[at], options.Papers.Count > 0 ? options.Papers[0] : Paper.A4), plan.Job.Name, options.Date));
        }

        var sequences = work.Items.ToDictionary(item => item.Layout, item => item.Sequence);
        foreach (var layout in plan.Layouts)
        {
            foreach (var scene in LayoutPicture.Pages(context, layout, sequences.GetValueOrDefault(layout.Number)))
            {
                yield return (scene.Name + ".png", PngFile.Bytes(scene));
                yield return (scene.Name + ".svg", SvgFile.Bytes(scene));
            }

            var drawing = Drawing.Of(context, layout);
            yield return ($"layout-{layout.Number:000}.dxf", DxfFile.Bytes(drawing));
            yield return ($"layout-{layout.Number:000}-full.svg", FullSizeSvg.Bytes(drawing));
        }
    }

    private static bool IsOurs(string name) => OurNames().IsMatch(name);

    [GeneratedRegex(@"^(buy\.(csv|pdf)|cuts\.csv|pieces\.csv|offcuts\.csv|cut-sheet-(a4|letter)\.pdf|plan\.xlsx|quote\.pdf|tablet\.html|layout-\d{3,}(-\d+)?\.(png|svg)|layout-\d{3,}-full\.svg|layout-\d{3,}\.dxf|order-\d{2,}-[a-z0-9-]+\.(csv|pdf))(\.nest-part)?$")]
    private static partial Regex OurNames();
}
