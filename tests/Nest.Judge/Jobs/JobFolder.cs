using System.Globalization;
using System.Text;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Judge.Jobs;

/// <summary>Writes a made job as the files that a shop would write: job.toml, parts.csv, catalogue.csv, rack.csv, materials.csv.</summary>
/// <remarks>Leftovers are written as measured. A row cut to size serves every part that it is large enough for, so the job that is read
/// may have a stock or two more than the one that was written.</remarks>
public static class JobFolder
{
    /// <summary>Writes the job into this folder.</summary>
    public static void Write(Job job, string folder)
    {
        Directory.CreateDirectory(folder);
        File.WriteAllText(Path.Combine(folder, "job.toml"), Head(job));
        File.WriteAllText(Path.Combine(folder, "parts.csv"), Parts(job));
        File.WriteAllText(Path.Combine(folder, "materials.csv"), Materials(job));
        if (job.Stocks.Any(stock => !stock.IsLeftover))
        {
            File.WriteAllText(Path.Combine(folder, "catalogue.csv"), Catalogue(job));
        }

        if (job.Stocks.Any(stock => stock.IsLeftover))
        {
            File.WriteAllText(Path.Combine(folder, "rack.csv"), Rack(job));
        }
    }

    private static string Head(Job job)
    {
        var text = new StringBuilder();
        Line($"# Made from a seed; all prices and suppliers are invented.");
        Line($"name = \"{job.Name}\"");
        Line($"unit = \"{(job.Unit == LengthUnit.Inch ? "in" : "mm")}\"");
        Line($"currency = \"{job.Currency}\"");
        Line($"batch = {job.Batch}");
        Line($"parts = \"parts.csv\"");
        Line($"materials = \"materials.csv\"");
        var catalogue = job.Stocks.Any(stock => !stock.IsLeftover) ? "\"catalogue.csv\"" : "[]";
        Line($"catalogue = {catalogue}");
        if (job.Stocks.Any(stock => stock.IsLeftover))
        {
            Line($"rack = \"rack.csv\"");
        }

        if (job.MostSuppliers is { } most)
        {
            Line($"most_suppliers = {most}");
        }

        foreach (var supplier in job.Suppliers)
        {
            Line($"\n[[supplier]]\nname = \"{supplier.Name}\"\nminimum_order = {supplier.MinimumOrder.Amount}\ndelivery = {supplier.Delivery.Amount}");
            if (supplier.FreeDeliveryFrom is { } from && supplier.Delivery > Money.Zero)
            {
                Line($"free_delivery_from = {from.Amount}");
            }
        }

        var given = job.AllowanceRules[0].Allowances.Over(default);
        Line($"\n[allowances]\nside_clean_up = {Mm(given.SideCleanUp)}\nend_clean_up = {Mm(given.EndCleanUp)}\nface_top = {Mm(given.FaceTop)}\nface_bottom = {Mm(given.FaceBottom)}\ngrip = {Mm(given.Grip)}");
        foreach (var rule in job.OffcutRules)
        {
            var form = rule.Form is { } only ? $"form = \"{FormName(only)}\"\n" : "";
            Line($"\n[[offcuts]]\n{form}keep_length = {Mm(rule.KeepLength)}\nkeep_width = {Mm(rule.KeepWidth)}\nfraction = {rule.Fraction}\nleftover_fraction = {rule.LeftoverFraction}");
        }

        if (job.OffcutRules.IsEmpty)
        {
            Line($"\n[[offcuts]] # nothing is ever so long: nothing is kept\nkeep_length = \"29 m\"\nfraction = 0\nleftover_fraction = 0");
        }

        Line($"\n[mill]\nhourly_rate = {job.Mill.HourlyRate}\ndefault_removal_rate = {job.Mill.DefaultRemovalRate}");
        var fuss = job.Fuss;
        Line($"\n[fuss]\nhourly_rate = {fuss.HourlyRate}\norder_line_minutes = {fuss.OrderLineMinutes}\nsupplier_minutes = {fuss.SupplierMinutes}\nfurther_size_minutes = {fuss.FurtherSizeMinutes}");
        foreach (var saw in job.Saws)
        {
            text.Append(SawText(saw));
        }

        return text.ToString();

        void Line(FormattableString line) => text.Append(line.ToString(CultureInfo.InvariantCulture)).Append('\n');
    }

    private static string SawText(Saw saw)
    {
        var text = new StringBuilder("\n[[saw]]\n");
        var kind = saw.Kind switch { SawKind.BarSaw => "bar saw", SawKind.PlateSaw => "plate saw", _ => "cutter" };
        Line($"name = \"{saw.Id}\"\nkind = \"{kind}\"\nkerf = {Mm(saw.Kerf)}");
        Line($"trim_left = {Mm(saw.Trims.Left)}\ntrim_right = {Mm(saw.Trims.Right)}");
        if (saw.Kind != SawKind.BarSaw)
        {
            Line($"trim_bottom = {Mm(saw.Trims.Bottom)}\ntrim_top = {Mm(saw.Trims.Top)}");
        }

        Limit("shortest_held", saw.ShortestHeld > Length.Zero ? Mm(saw.ShortestHeld) : null);
        Limit("largest_cut", saw.LargestCut is { } cut ? Mm(cut) : null);
        Limit("largest_thickness", saw.LargestThickness is { } thick ? Mm(thick) : null);
        Limit("longest_stock", saw.LongestStock is { } longest ? Mm(longest) : null);
        Limit("most_pieces", saw.MostPieces?.ToString(CultureInfo.InvariantCulture));
        Limit("stages", saw.Stages?.ToString(CultureInfo.InvariantCulture));
        Limit("trimming_cut", saw.Stages is null ? null : saw.TrimmingCut ? "true" : "false");
        Limit("first_cut", saw.FirstCut is { } first ? $"\"{first.ToString().ToLowerInvariant()}\"" : null);
        Line($"hourly_rate = {saw.HourlyRate}\ncharge_per_cut = {saw.ChargePerCut}\nhandling_minutes = {saw.HandlingMinutes}\nsetting_minutes = {saw.SettingMinutes}\nload_minutes = {saw.LoadMinutes}\ndefault_cut_rate = {saw.DefaultCutRate}");
        if (!saw.CutRates.IsEmpty)
        {
            Line($"\n[saw.cut_rates]");
            foreach (var rate in saw.CutRates)
            {
                Line($"{rate.Family} = {rate.SquareCentimetresPerMinute}");
            }
        }

        return text.ToString();

        void Limit(string name, string? value)
        {
            if (value is not null)
            {
                Line($"{name} = {value}");
            }
        }

        void Line(FormattableString line) => text.Append(line.ToString(CultureInfo.InvariantCulture)).Append('\n');
    }

    private static string Parts(Job job) => Table(
        "part,material,length,width,thickness,diameter,wall,flange,quantity,extra,forms,turn,faces stay,sides stay,end clean-up,angle start,angle end,angle across,one stock,one size",
        job.Parts.Select(part => new[]
        {
            part.Id, part.MaterialId, Cell(part.Length), part.Round ? "" : Cell(part.Width), part.Round || part.Forms.Section() is { } form && form.HasOneSize() ? "" : Cell(part.Thickness),
            part.Round ? Cell(part.Width) : "", Wall(part.Detail), Flange(part.Detail), Number(part.Quantity), Number(part.Extra), FormsName(part.Forms), YesNo(part.MayTurn),
            YesNo(part.MillFaces), YesNo(part.MillSides), part.Allowances?.EndCleanUp is { } end ? Cell(end) : "",
            part.Ends is { } ends ? Number(ends.Start.ToDegrees()) : "", part.Ends is { } ends2 ? Number(ends2.End.ToDegrees()) : "",
            part.Ends is { } ends3 ? (ends3.AcrossThickness ? "thickness" : "width") : "", YesNo(part.OneStock), YesNo(part.OneSize),
        }));

    private static string Materials(Job job) => Table(
        "material,family,density,density source,scrap price",
        job.Materials.Select(one => new[] { one.Id, one.Family, Number(one.Density), one.DensitySource, Number(one.ScrapPricePerKilogram) }));

    private static string Catalogue(Job job) => Table(
        "id,form,material,thickness,width,diameter,wall,flange,length,min thickness,min width,min length,price,per,available,supplier,good faces,breaks,break rule,line minimum,cut to size",
        job.Stocks.Where(stock => !stock.IsLeftover).Select(stock => new[]
        {
            stock.CutFor is null ? stock.Id : stock.Id[..stock.Id.IndexOf(" cut for", StringComparison.Ordinal)],
            FormName(stock.Form), stock.MaterialId, Thickness(stock, stock.Thickness), Width(stock), Diameter(stock), Wall(stock.Detail), Flange(stock.Detail), Cell(stock.Length),
            stock.Form.HasOneSize() && stock.Form != Form.SquareBar ? "" : Cell(stock.MinThickness), Cell(stock.MinWidth), Cell(stock.MinLength),
            Number(stock.PiecePrice.Amount), "piece", stock.Available is { } available ? Number(available) : "", stock.Supplier ?? "",
            YesNo(stock.GoodFaces), string.Join("; ", stock.Terms.Breaks.Select(step => $"{step.From}: {Number(step.PiecePrice.Amount)}")),
            stock.Terms.Rule == BreakRule.AllUnits ? "all units" : "incremental", Number(stock.Terms.LineMinimum.Amount),
            stock.CutFor is null ? "no" : "only",
        }));

    private static string Rack(Job job) => Table(
        "mark,form,material,thickness,width,diameter,wall,flange,length,clean edges,keep outs,good faces,value",
        job.Stocks.Where(stock => stock.IsLeftover).Select(stock => new[]
        {
            stock.RackMark!, FormName(stock.Form), stock.MaterialId, Thickness(stock, stock.MinThickness), Width(stock), Diameter(stock), Wall(stock.Detail), Flange(stock.Detail),
            Cell(stock.MinLength), Clean(stock.CleanEdges),
            string.Join(";", stock.KeepOuts.Select(area => $"{Cell(area.X)},{Cell(area.Y)},{Cell(area.SizeX)},{Cell(area.SizeY)}")),
            YesNo(stock.GoodFaces), Number(stock.PiecePrice.Amount),
        }));

    private static string Table(string head, IEnumerable<string[]> rows) =>
        head + "\n" + string.Concat(rows.Select(row => string.Join(',', row.Select(Quoted)) + "\n"));

    private static string Quoted(string cell) => cell.AsSpan().ContainsAny(',', '"', ';') ? $"\"{cell.Replace("\"", "\"\"")}\"" : cell;

    private static string Thickness(Stock stock, Length thickness) => stock.Form.HasOneSize() ? "" : Cell(thickness);

    private static string Width(Stock stock) => stock.Form == Form.RoundBar ? "" : Cell(stock.IsLeftover ? stock.MinWidth : stock.Width);

    private static string Diameter(Stock stock) => stock.Form == Form.RoundBar ? Cell(stock.Width) : "";

    private static string Clean(CleanEdges clean)
    {
        var edges = new[] { (clean.Left, "left"), (clean.Right, "right"), (clean.Bottom, "bottom"), (clean.Top, "top") };
        var names = string.Join(' ', edges.Where(edge => edge.Item1).Select(edge => edge.Item2));
        return names.Length == 0 ? "none" : names;
    }

    private static string FormsName(Forms forms) => forms == Forms.Any ? "any" : string.Join(" + ", Enum.GetValues<Form>()
        .Where(form => ((int)forms >> (int)form & 1) != 0).Select(FormName));

    private static string FormName(Form form) => form switch
    {
        Form.Plate => "plate",
        Form.FlatBar => "flat bar",
        Form.SquareBar => "square bar",
        Form.RoundBar => "round bar",
        _ => form.Word().Replace('-', ' '),
    };

    private static string Wall(SectionDetail? detail) => detail?.Wall is { } wall ? Cell(wall) : "";

    private static string Flange(SectionDetail? detail) => detail?.Flange is { } flange ? Cell(flange) : "";

    private static string Mm(Length length) => $"\"{Cell(length)}\"";

    private static string Cell(Length length) => $"{Number(length.ToMillimetres())} mm";

    private static string YesNo(bool yes) => yes ? "yes" : "no";

    private static string Number(decimal number) => number.ToString("0.############", CultureInfo.InvariantCulture);
}
