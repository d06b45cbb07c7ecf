using System.Globalization;
using System.IO.Compression;
using System.Text;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using Nest.Core.Plans;
using Nest.Output;
using Nest.Output.Files;
using Nest.Output.Fonts;
using Nest.Output.Scenes;
using Nest.Output.Sheets;
using Nest.Output.Texts;

namespace Nest.Tests.Output;

public sealed class FilesTest
{
    private static SheetContext Context(Plan plan) => new(plan, new OutputOptions());

    [Fact]
    public void Dxf_read_back_gives_every_blank_to_the_micrometre()
    {
        foreach (var (name, plan) in SamplePlans.All())
        {
            foreach (var layout in plan.Layouts)
            {
                var read = DxfReader.Read(DxfFile.Bytes(Drawing.Of(Context(plan), layout)));
                read.Version.Should().Be("AC1009");
                read.Layers.Should().BeEquivalentTo("OUTLINE", "BLANKS", "CUTS", "OFFCUTS", "KEEP_OUT", "TEXT", "ANGLED_ENDS", "PARTS_TO_MILL");
                var blanks = read.Polylines.Where(line => line.Layer == "BLANKS").ToArray();
                blanks.Should().OnlyContain(line => line.Closed && line.Points.Count == 4, name);
                var boxes = blanks.Select(line => (line.Points.Min(p => p.X), line.Points.Min(p => p.Y), line.Points.Max(p => p.X), line.Points.Max(p => p.Y))).ToArray();
                boxes.Should().Equal(layout.Pieces.Select(piece => (piece.Area.X.ToMillimetres(), piece.Area.Y.ToMillimetres(), piece.Area.Right.ToMillimetres(), piece.Area.Top.ToMillimetres())));

                // No cut goes through a blank.
                foreach (var cut in read.Entities.Where(entity => entity.Type == "LINE"))
                {
                    var (x1, y1, x2, y2) = (DxfReader.Number(cut.Codes[10]), DxfReader.Number(cut.Codes[20]), DxfReader.Number(cut.Codes[11]), DxfReader.Number(cut.Codes[21]));
                    Array.Exists(boxes, box => box.Item1 < Math.Max(x1, x2) && box.Item3 > Math.Min(x1, x2) && box.Item2 < Math.Max(y1, y2) && box.Item4 > Math.Min(y1, y2)).Should().BeFalse("{0}: the cut from {1}, {2} to {3}, {4}", name, x1, y1, x2, y2);
                }
            }
        }
    }

    /// <summary>Our PNG, read by the library's decoder, is the drawing to the last pixel, and tells its size on paper.</summary>
    [Fact]
    public void Png_read_back_is_the_drawing()
    {
        var plan = SamplePlans.Brackets();
        var scene = Nest.Output.Pictures.LayoutPicture.Pages(Context(plan), plan.Layouts[0], null)[0];
        var bytes = Nest.Output.Draw.PngFile.Bytes(scene);
        using var read = SkiaSharp.SKBitmap.Decode(bytes, new SkiaSharp.SKImageInfo((int)Math.Round(scene.Width * 200 / 25.4), (int)Math.Round(scene.Height * 200 / 25.4), SkiaSharp.SKColorType.Rgba8888, SkiaSharp.SKAlphaType.Unpremul));
        using var surface = SkiaSharp.SKSurface.Create(read.Info.WithAlphaType(SkiaSharp.SKAlphaType.Opaque));
        surface.Canvas.Clear(SkiaSharp.SKColors.White);
        surface.Canvas.Scale((float)(200 / 25.4));
        Nest.Output.Draw.SkiaPainter.Paint(surface.Canvas, scene);
        using var drawn = surface.Snapshot();
        using var pixels = drawn.PeekPixels();
        read.GetPixelSpan().SequenceEqual(pixels.GetPixelSpan()).Should().BeTrue();

        // 200 dots an inch are 7 874 a metre.
        var at = bytes.AsSpan().IndexOf("pHYs"u8);
        System.Buffers.Binary.BinaryPrimitives.ReadInt32BigEndian(bytes.AsSpan(at + 4)).Should().Be(7874);
    }

    /// <summary>A text that was moved to the edge of its room is not shortened there: <c>13.5</c> as <c>1…</c> would be read as another size.</summary>
    [Fact]
    public void A_text_in_a_room_of_its_own_width_stays_whole()
    {
        foreach (var text in new[] { "13.5", "63", "7/16", "no. 4: 2 × 43" })
        {
            var wide = FontBook.Width(text, Face.Regular, 3.2);
            foreach (var right in new[] { 190.0, 203.7, 77.1, 1 / 3.0 + 150 })
            {
                var middle = right - (wide / 2);
                var scene = new SceneBuilder("s", 210, 297);
                scene.Text(Layer.Ruler, text, middle, 10, 3.2, Box.FromEdges(0, 0, right, 20), Face.Regular, Align.Center);
                scene.Build().Texts.Single().Text.Should().Be(text);
            }
        }
    }

    [Fact]
    public void Full_size_svg_is_as_large_as_the_plate()
    {
        var plan = SamplePlans.Brackets();
        var svg = XDocument.Parse(Encoding.UTF8.GetString(FullSizeSvg.Bytes(Drawing.Of(Context(plan), plan.Layouts[0]))));
        svg.Root!.Attribute("width")!.Value.Should().Be("2000mm");
        svg.Root.Attribute("viewBox")!.Value.Should().Be("0 0 2000 1000");
        svg.Descendants().Single(group => group.Attribute("id")?.Value == "BLANKS").Elements().Should().HaveCount(plan.Layouts[0].Pieces.Length);
    }

    [Fact]
    public void Cells_that_look_like_formulas_are_made_safe()
    {
        foreach (var start in new[] { "=1", "+1", "-1", "@x", "\tx", "'x" })
        {
            Core.Texts.SafeCell.Guard(start).Should().Be("'" + start);
        }

        var csv = Encoding.UTF8.GetString(CsvFile.Bytes(PlanTables.Pieces(Context(SamplePlans.LongNames()))));
        csv.Should().Contain("'=HYPERLINK").And.NotContain(",=").And.NotContain(",\"=");
        CsvFile.Bytes(new Sheet("t", ["a"], [[-1.5m]])).Should().Equal("a\n-1.5\n"u8.ToArray());
    }

    [Fact]
    public void Tables_do_not_depend_on_the_culture_of_the_machine()
    {
        var plan = SamplePlans.Brackets();
        var invariant = OutputFolder.Contents(plan, new OutputOptions { Papers = [] }).ToArray();
        var before = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = new CultureInfo("de-DE");
            foreach (var ((name, bytes), (_, other)) in OutputFolder.Contents(plan, new OutputOptions { Papers = [] }).Zip(invariant))
            {
                bytes.Should().Equal(other, name);
            }
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    [Fact]
    public void Workbook_begins_with_a_summary_and_has_safe_cells_and_formatted_numbers()
    {
        var plan = SamplePlans.LongNames();
        var bytes = OutputFolder.Contents(plan, new OutputOptions { Papers = [] }).First(file => file.Name == "data/plan.xlsx").Bytes;
        using var zip = new ZipArchive(new MemoryStream(bytes));
        using var book = zip.GetEntry("xl/workbook.xml")!.Open();
        XNamespace main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
        XDocument.Load(book).Descendants(main + "sheet").Select(sheet => sheet.Attribute("name")!.Value)
            .Should().Equal("summary", "buy", "layouts", "cuts", "pieces", "offcuts", "cost");
        var cells = zip.Entries.Where(entry => entry.FullName.StartsWith("xl/", StringComparison.Ordinal) && entry.FullName.EndsWith(".xml", StringComparison.Ordinal))
            .Select(entry => { using var stream = entry.Open(); return XDocument.Load(stream); }).ToArray();
        cells.SelectMany(sheet => sheet.Descendants(main + "f")).Should().BeEmpty("no cell may be a formula");

        // Money to the cent and masses to the gram, by the formats that a spreadsheet reads (ECMA-376 part 1, 18.8.30: built-in format 4 is #,##0.00).
        var styles = Part("xl/styles.xml");
        var formats = styles.Descendants(main + "cellXfs").Single().Elements(main + "xf").Select(style => (string?)style.Attribute("numFmtId")).ToArray();
        styles.Descendants(main + "cellXfs").Single().Attribute("count")!.Value.Should().Be(formats.Length.ToString(CultureInfo.InvariantCulture));
        Format(Part("xl/worksheets/sheet1.xml"), "cost of the batch", 1).Should().Be("4");
        Format(Part("xl/worksheets/sheet1.xml"), "cuts", 1).Should().Be("0", "a count is a whole number");
        var offcuts = PlanTables.Offcuts(Context(plan));
        var mass = offcuts.Heads.ToList().IndexOf("mass_each_kg");
        var cell = Part("xl/worksheets/sheet6.xml").Descendants(main + "row").ElementAt(1).Elements(main + "c").ElementAt(mass);
        var own = formats[int.Parse(cell.Attribute("s")!.Value, CultureInfo.InvariantCulture)];
        styles.Descendants(main + "numFmt").Single(format => format.Attribute("numFmtId")!.Value == own).Attribute("formatCode")!.Value.Should().Be("0.000");

        XDocument Part(string name)
        {
            using var stream = zip.GetEntry(name)!.Open();
            return XDocument.Load(stream);
        }

        string? Format(XDocument sheet, string item, int column)
        {
            var row = sheet.Descendants(main + "row").First(one => one.Elements(main + "c").First().Value == item);
            return formats[int.Parse(row.Elements(main + "c").ElementAt(column).Attribute("s")!.Value, CultureInfo.InvariantCulture)];
        }
    }

    [Theory]
    [InlineData(Paper.A4, 210, 297)] // ISO 216: A4 is 210 mm × 297 mm
    [InlineData(Paper.Letter, 215.9, 279.4)] // ANSI/ASME Y14.1: A size is 8.5 in × 11 in
    public void Printed_at_full_size_a_millimetre_is_a_millimetre(Paper paper, double width, double height)
    {
        // A ruler of 100 mm, then what the file says: page size in points of 1/72 in (ISO 32000) and the scale of its content.
        var context = Context(SamplePlans.Brackets());
        var pages = CutSheet.Pages(context, Core.Cutting.CutSequencer.Order(context.Plan), paper);
        var pdf = Encoding.Latin1.GetString(Nest.Output.Draw.PdfFile.Bytes(pages, "t", null));
        var boxes = Regex.Matches(pdf, @"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]");
        boxes.Should().HaveCount(pages.Count);
        foreach (Match box in boxes)
        {
            (double.Parse(box.Groups[1].Value, CultureInfo.InvariantCulture) / 72 * 25.4).Should().BeApproximately(width, 0.02);
            (double.Parse(box.Groups[2].Value, CultureInfo.InvariantCulture) / 72 * 25.4).Should().BeApproximately(height, 0.02);
        }

        var scene = new Scene("ruler", width, height, [new LinesElement(Layer.Ruler, [new(20, 50, 120, 50)], new Stroke(Tint.Black, 0.5))]);
        var content = Inflated(Nest.Output.Draw.PdfFile.Bytes([scene], "t", null)).Single(text => text.Contains(" l\n", StringComparison.Ordinal) || text.Contains(" l ", StringComparison.Ordinal));
        LineLength(content).Should().BeApproximately(100, 0.01, content);
        pdf.Should().NotContain("CreationDate");
    }

    // Follows the content's matrices (cm) to the line that is drawn.
    private static double LineLength(string content)
    {
        var scale = 1.0;
        foreach (Match matrix in Regex.Matches(content, @"([-\d.]+) ([-\d.]+) ([-\d.]+) ([-\d.]+) ([-\d.]+) ([-\d.]+) cm"))
        {
            scale *= Math.Abs(double.Parse(matrix.Groups[1].Value, CultureInfo.InvariantCulture));
        }

        var from = Regex.Match(content, @"([-\d.]+) ([-\d.]+) m\s");
        var to = Regex.Match(content, @"([-\d.]+) ([-\d.]+) l\s");
        var points = (double.Parse(to.Groups[1].Value, CultureInfo.InvariantCulture) - double.Parse(from.Groups[1].Value, CultureInfo.InvariantCulture)) * scale;
        return points / 72 * 25.4;
    }

    private static IEnumerable<string> Inflated(byte[] pdf)
    {
        var text = Encoding.Latin1.GetString(pdf);
        foreach (Match stream in Regex.Matches(text, @"(?<!end)stream\r?\n"))
        {
            var end = text.IndexOf("endstream", stream.Index + stream.Length, StringComparison.Ordinal);
            var raw = pdf[(stream.Index + stream.Length)..end];
            string? inflated = null;
            try
            {
                using var zlib = new ZLibStream(new MemoryStream(raw), CompressionMode.Decompress);
                using var reader = new StreamReader(zlib, Encoding.Latin1);
                inflated = reader.ReadToEnd();
            }
            catch (InvalidDataException)
            {
                inflated = Encoding.Latin1.GetString(raw);
            }

            yield return inflated;
        }
    }

    [Fact]
    public void Greek_and_Chinese_have_glyphs_and_what_has_none_is_a_box()
    {
        FontBook.Runs("Βραχίονας货运自行车Ø×½", Face.Bold).Should().OnlyContain(run => run.Typeface != null);
        FontBook.Runs("a\U0001F6B2b", Face.Regular).Should().ContainSingle(run => run.Typeface == null).Which.Width.Should().BePositive();
    }

    [Fact]
    public void Fingerprint_changes_with_the_plan_and_only_with_it()
    {
        var plan = SamplePlans.Brackets();
        var print = Fingerprint.Of(plan);
        print.Should().MatchRegex("^[2-9A-HJKMNP-TV-Z]{8}$");
        Fingerprint.Of(SamplePlans.Brackets()).Should().Be(print);
        var moved = plan.Layouts[0].Pieces[0];
        var other = plan.Layouts[0] with { Pieces = plan.Layouts[0].Pieces.SetItem(0, moved with { Area = moved.Area with { X = moved.Area.X + Core.Quantities.Length.FromNanometres(1) } }) };
        Fingerprint.Of(plan with { Layouts = plan.Layouts.SetItem(0, other) }).Should().NotBe(print);
    }

    [Fact]
    public void Fractions_show_what_they_round_away()
    {
        // 14.3 in is 14 5/16 in less 0.0125 in, by hand.
        var csv = Encoding.UTF8.GetString(OutputFolder.Contents(SamplePlans.Inches(), new OutputOptions { Papers = [] }).First(file => file.Name == "data/cuts.csv").Bytes);
        csv.Should().Contain("14 5/16\"\" -0.0125\"\"");
    }

    [Fact]
    public void Decimal_comma_reaches_sizes_and_money_but_no_table()
    {
        var plan = SamplePlans.Brackets();
        var options = new OutputOptions { Numbers = new NumberStyle { DecimalMark = ',', GroupMark = " " }, Papers = [] };
        using var text = new StringWriter();
        PlanSummary.Write(plan, text, options);
        text.ToString().Should().Contain("1 237,50").And.Contain("64,8 kg");
        OutputFolder.Contents(plan, options).First(file => file.Name == "data/buy.csv").Bytes
            .Should().Equal(OutputFolder.Contents(plan, new OutputOptions { Papers = [] }).First(file => file.Name == "data/buy.csv").Bytes);
    }

    [Fact]
    public void What_a_crash_left_half_written_is_replaced_and_does_not_stay()
    {
        var folder = Directory.CreateTempSubdirectory("nest-output").FullName;
        try
        {
            var half = new string('x', 1_000_000);
            foreach (var (name, write) in new (string, Action<string>)[]
            {
                ("batch.csv", _ => WholeFile.WriteAll(folder, [("batch.csv", "new"u8.ToArray())])),
                ("rack.csv", path => WholeFile.Write(path, "new"u8.ToArray())),
            })
            {
                var path = Path.Combine(folder, name);
                File.WriteAllText(path, "old");
                File.WriteAllText(path + ".nest-part", half);
                write(path);
                File.ReadAllText(path).Should().Be("new");
                File.Exists(path + ".nest-part").Should().BeFalse();
            }
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }

    [Fact]
    public void Tablet_page_is_one_file_that_counts_every_cut()
    {
        foreach (var (_, plan) in SamplePlans.All())
        {
            var html = Encoding.UTF8.GetString(OutputFolder.Contents(plan, new OutputOptions { Papers = [] }).First(file => file.Name == "tablet.html").Bytes);
            Regex.Matches(html, "(src|href)=\"(?!#)").Should().BeEmpty("nothing is fetched");
            var work = Core.Cutting.CutSequencer.Order(plan);
            var cuts = work.Items.Sum(item => (item.Stacks * (item.Sequence.Steps.Length + item.Sequence.Outlines.Length)) + (item.Count * item.Sequence.AngledCuts.Sum(cut => cut.Pieces)));
            Regex.Matches(html, "id=\"l\\d+-\\d+\" data-count=\"(\\d+)\"").Sum(match => int.Parse(match.Groups[1].Value, CultureInfo.InvariantCulture)).Should().Be(cuts);
            Regex.Matches(html, "class=\"cut\"").Should().HaveCount(work.Items.Sum(item => item.Sequence.Steps.Length + item.Sequence.Outlines.Length), "each cut is in the picture");
            var ids = Regex.Matches(html, " id=\"([^\"]+)\"").Select(match => match.Groups[1].Value).ToArray();
            ids.Should().OnlyHaveUniqueItems();
            var counted = Nest.Output.Tablet.TabletServed.Counted(plan, new());
            counted.Keys.Should().BeEquivalentTo(Regex.Matches(html, "<article class=\"[^\"]*\" id=\"([^\"]+)\"").Select(match => match.Groups[1].Value), "the desk counts the same steps");
            counted.Values.Where(count => count.Finishes > 0).Sum(count => count.Most).Should().Be(work.Items.Sum(item => item.Count));
        }
    }
}
