using System.Text;
using Nest.Core.Jobs;
using Nest.Output.Rack;
using Nest.Output.Scenes;
using Nest.Rack.Marks;
using Nest.RackStress;
using SkiaSharp;
using ZXing;
using ZXing.Common;

namespace Nest.Tests.Rack;

public sealed class RackPrintsTest
{
    private static readonly LabelContent Label = new("K7MP5", "500 × 300 × 10 mm", "6061-T651", ["heat N-100", "place A1", "plate, leftover", "P7 layout 2, from AAC3"]);

    [Theory]
    [InlineData(62, 29)]
    [InlineData(34, 14)]
    [InlineData(105, 57)]
    public void The_code_of_a_label_is_read_by_another_librarys_reader(double width, double height)
    {
        // Read by ZXing.Net, which shares no code with the writer (QRCoder).
        for (var number = 0; number < 20; number++)
        {
            var mark = MarkScheme.FromNumber(number * 4321);
            using var picture = SKBitmap.Decode(LabelPages.Png(Label with { Mark = mark }, width, height));
            var grey = new byte[picture.Width * picture.Height];
            for (var i = 0; i < grey.Length; i++)
            {
                grey[i] = picture.GetPixel(i % picture.Width, i / picture.Width).Red;
            }

            var source = new RGBLuminanceSource(grey, picture.Width, picture.Height, RGBLuminanceSource.BitmapFormat.Gray8);
            var read = new ZXing.QrCode.QRCodeReader().decode(
                new BinaryBitmap(new HybridBinarizer(source)), new Dictionary<DecodeHintType, object> { [DecodeHintType.TRY_HARDER] = true });
            read?.Text.Should().Be(mark);
            read.Should().NotBeNull();
        }
    }

    [Fact]
    public void Marks_are_large_enough_and_nothing_leaves_its_label()
    {
        var sheet = LabelSheet.Usual;
        var pages = LabelPages.Scenes([.. Enumerable.Repeat(Label, 30)], sheet, skip: 5);
        pages.Should().HaveCount(2, "5 + 30 labels on sheets of 24");
        pages[0].Texts.Count(text => text.Text == Label.Mark).Should().Be(19);
        foreach (var page in pages)
        {
            foreach (var text in page.Texts)
            {
                var column = (int)((text.Bounds.CenterX - sheet.Left) / sheet.PitchX);
                var row = (int)((text.Bounds.CenterY - sheet.Top) / sheet.PitchY);
                new Box(sheet.Left + (column * sheet.PitchX), sheet.Top + (row * sheet.PitchY), sheet.Width, sheet.Height).Contains(text.Bounds).Should().BeTrue();
            }

            page.Texts.Where(text => text.Text == Label.Mark).Should().OnlyContain(text => text.Size * 0.73 >= LabelPages.ArmsLength);
        }
    }

    [Fact]
    public void A_small_label_keeps_its_mark_readable_at_arms_length()
    {
        var page = LabelPages.Scenes([Label], LabelSheet.OneLabel(LabelSheet.LeastWidth, LabelSheet.LeastHeight), 0)[0];
        page.Texts.Should().Contain(text => text.Text == Label.Mark && text.Size * 0.73 >= LabelPages.ArmsLength - 1e-9);
        page.Texts.Should().OnlyContain(text => page.Area.Contains(text.Bounds, 1e-6));
    }

    /// <summary>A size that is cut off is no size: whatever the label, all of it is there.</summary>
    [Theory]
    [InlineData("610 × 330 × 8 mm")]
    [InlineData("25 × 12 × 5 mm")]
    [InlineData("24.0157 × 12.9921 × 0.315 in")]
    [InlineData("40 × 15 × 12400 mm")]
    [InlineData("Ø 25.4 × 870 mm")]
    public void No_size_is_cut_off(string size)
    {
        foreach (var (width, height) in new[] { (34.0, 14.0), (62.0, 29.0), (66.7, 25.4), (70.0, 37.0), (105.0, 57.0) })
        {
            var page = LabelPages.Scenes([Label with { Size = size }], LabelSheet.OneLabel(width, height), 0)[0];
            string.Join(' ', page.Texts.Skip(1).Take(2).Select(text => text.Text)).Should().StartWith(size, $"{width} x {height}");
            page.Texts.Should().OnlyContain(text => page.Area.Contains(text.Bounds, 1e-6));
        }
    }

    /// <summary>The heat is traceability: it is there, whole, or the label is named.</summary>
    [Theory]
    [InlineData("H1")]
    [InlineData("HEAT-2025-009981-A")]
    [InlineData("Schmelze 4711 aus Los 12 vom Lieferanten")]
    public void The_heat_is_on_every_label_or_its_mark_is_named(string heat)
    {
        var printed = 0;
        foreach (var size in new[] { "500 × 300 × 10 mm", "1000 × 600 × 12.5 mm", "24.0157 × 12.9921 × 0.315 in" })
        {
            foreach (var (width, height) in new[] { (34.0, 14.0), (62.0, 29.0), (66.7, 25.4), (70.0, 37.0), (50.0, 50.0), (105.0, 57.0), (100.0, 150.0) })
            {
                var (sheet, label) = (LabelSheet.OneLabel(width, height), Label with { Size = size, Heat = heat, Remark = "poor, damaged" });
                var page = LabelPages.Scenes([label], sheet, 0)[0];
                var text = string.Join(' ', page.Texts.Select(one => one.Text));
                var named = LabelPages.WithoutHeat([label], sheet).Count == 1;
                text.Contains(heat, StringComparison.Ordinal).Should().Be(!named, $"{width} x {height}, {size}: {text}");
                text.Should().Contain(size).And.NotContain("…");
                page.Texts.Should().OnlyContain(one => page.Area.Contains(one.Bounds, 1e-6) && one.Size * 0.73 >= 1.3 - 1e-2);
                if (width > 60)
                {
                    named.Should().BeFalse($"{width} x {height} has room");
                    text.Should().Contain("6061-T651, poor, damaged");
                }

                printed += named ? 0 : 1;
            }
        }

        printed.Should().BeGreaterThan(14);
    }

    [Fact]
    public void On_an_upright_label_the_code_stands_above_text_that_fills_the_width()
    {
        var page = LabelPages.Scenes([Label], LabelSheet.OneLabel(100, 150), 0)[0];
        var code = page.Elements.OfType<BoxElement>().Where(box => box.Box.Bottom < page.Texts.First().Bounds.Y).Select(box => box.Box).ToList();
        code.Should().HaveCountGreaterThan(50);
        (code.Max(box => box.Right) - code.Min(box => box.X)).Should().BeGreaterThan(40, "millimetres");
        page.Texts.First().Bounds.Width.Should().BeGreaterThan(60, "the mark");
        page.Texts.Max(text => text.Bounds.Bottom).Should().BeGreaterThan(110);
        page.Texts.Should().OnlyContain(text => text.Size * 0.73 >= 3, "nothing is small where there is so much room");
    }

    /// <summary>Plates that are too small for their text have all of it beside them; damage has no line through letters.</summary>
    [Fact]
    public void Size_and_material_of_every_piece_are_on_the_picture()
    {
        var items = Enumerable.Range(0, 30).Select(i => new PictureItem(
            MarkScheme.FromNumber(i), "A", "6061-T651", Form.Plate, SamplePlans.Mm(15 + (9 * i)), SamplePlans.Mm(10 + (5 * (i % 7))), $"{15 + (9 * i)} × {10 + (5 * (i % 7))} × 10 mm",
            i % 3 == 0 ? [new(SamplePlans.Mm(0), SamplePlans.Mm(0), SamplePlans.Mm(15), SamplePlans.Mm(10))] : [], false)).ToList();
        var texts = RackPicture.Scenes(items, "Rack").SelectMany(page => page.Texts).Select(text => text.Text).ToList();
        var all = string.Join(' ', texts);
        items.Should().OnlyContain(item => all.Contains($"{item.SizeText} {item.Material}"));
        texts.Should().NotContain(text => text.Contains('…', StringComparison.Ordinal));
    }

    [Fact]
    public void The_scale_bar_is_in_the_shops_unit()
    {
        var item = new PictureItem("K7MP5", "A", "6061-T651", Form.Plate, SamplePlans.Mm(1000), SamplePlans.Mm(500), "size", [], false);
        var page = RackPicture.Scenes([item], "Rack", Nest.Core.Quantities.LengthUnit.Inch)[0];
        var text = page.Texts.Select(one => one.Text).Should().ContainSingle(one => one.EndsWith(" in", StringComparison.Ordinal)).Subject;
        var bar = page.Elements.OfType<LinesElement>().Where(line => line.Layer == Layer.Ruler).SelectMany(line => line.Segments).Max(line => line.X2 - line.X1);
        var piece = page.Elements.OfType<BoxElement>().Single(box => box.Layer == Layer.Piece).Box.Width;
        // The bar is to the piece as its inches are to 1000 mm; the inch is 25.4 mm by definition.
        (bar / piece).Should().BeApproximately(double.Parse(text[..^3], System.Globalization.CultureInfo.InvariantCulture) * 25.4 / 1000, 1e-9);
    }

    [Fact]
    public void The_pitch_of_a_sheet_is_true_in_the_scene()
    {
        var sheet = new LabelSheet(215.9, 279.4, 3, 10, 66.675, 25.4, 69.85, 25.4, 4.7625, 12.7);
        var marks = LabelPages.Scenes([.. Enumerable.Repeat(Label, 6)], sheet, 0)[0].Texts.Where(text => text.Text == Label.Mark).Select(text => text.Bounds).ToList();
        (marks[1].X - marks[0].X).Should().BeApproximately(69.85, 1e-9);
        (marks[3].Y - marks[0].Y).Should().BeApproximately(25.4, 1e-9);
        marks[0].X.Should().BeGreaterThan(4.7625);
    }

    [Fact]
    public void Pictures_and_count_sheets_never_show_half_a_size()
    {
        var items = Enumerable.Range(0, 40).Select(i => new PictureItem(
            MarkScheme.FromNumber(i), "A", "6061-T651", Form.Plate, SamplePlans.Mm(60 + (40 * i)), SamplePlans.Mm(30 + (11 * i)), $"{60 + (40 * i)} × {30 + (11 * i)} × 10 mm", [], false));
        var texts = RackPicture.Scenes([.. items], "Rack").SelectMany(page => page.Texts).Select(text => text.Text).ToList();
        texts.Should().NotContain(text => text.Contains('…', StringComparison.Ordinal));
        texts.Should().Contain(text => text.Contains("10 mm", StringComparison.Ordinal));
        var place = "Regal ganz hinten links unten, Fach 12b";
        var rows = CountSheet.Scenes([new CountSheetRow(place, "K7MP5", "plate", "6061-T651", "24.0157 × 12.9921 × 0.315 in")], "Stock-take 1")[0].Texts.Select(text => text.Text).ToList();
        string.Join(' ', rows).Should().Contain(place).And.Contain("24.0157 × 12.9921 × 0.315 in");
    }

    [Fact]
    public void Sheets_that_cannot_be_are_named()
    {
        LabelSheet.Usual.Problem().Should().BeNull();
        (LabelSheet.Usual with { Columns = 4 }).Problem().Should().Contain("do not fit");
        (LabelSheet.Usual with { PitchX = 60 }).Problem().Should().Contain("overlap");
        LabelSheet.OneLabel(20, 10).Problem().Should().Contain("at least");
    }

    [Fact]
    public void Same_labels_same_bytes()
    {
        var day = new DateOnly(2026, 3, 2);
        LabelPages.Pdf([Label], LabelSheet.Usual, 0, day).Should().Equal(LabelPages.Pdf([Label], LabelSheet.Usual, 0, day));
        Encoding.ASCII.GetString(LabelPages.Pdf([Label], LabelSheet.Usual, 0, day), 0, 5).Should().Be("%PDF-");
    }

    [Fact]
    public void The_picture_shows_every_piece_once_to_scale_within_its_page()
    {
        var random = new Random(3);
        var items = Enumerable.Range(0, 150).Select(i => new PictureItem(
            MarkScheme.FromNumber(i), $"A{i % 7}", "6061-T651", i % 5 == 0 ? Form.RoundBar : Form.Plate, SamplePlans.Mm(80 + random.Next(i % 5 == 0 ? 2900 : 1200)),
            SamplePlans.Mm(i % 5 == 0 ? 30 : 60 + random.Next(600)), "size", [], i % 9 == 0)).ToList();
        var pages = RackPicture.Scenes(items, "Rack");
        var boxes = pages.SelectMany(page => page.Elements.OfType<BoxElement>().Where(box => box.Layer == Layer.Piece)).ToList();
        boxes.Should().HaveCount(items.Count);
        pages.SelectMany(page => page.Texts).Select(text => text.Text).Intersect(items.Select(item => item.Mark)).Should().HaveCount(items.Count);
        foreach (var page in pages)
        {
            var here = page.Elements.OfType<BoxElement>().Where(box => box.Layer == Layer.Piece).Select(box => box.Box).ToList();
            here.Should().OnlyContain(box => page.Area.Contains(box, 1e-6));
            for (var i = 0; i < here.Count; i++)
            {
                here.Skip(i + 1).Should().NotContain(other => other.Overlaps(here[i], 1e-6));
            }
        }

        // To scale: lengths on paper are in one proportion to the real ones.
        var ratio = boxes.Max(box => box.Box.Width) / items.Max(item => (double)item.Length.ToMillimetres());
        boxes.Sum(box => box.Box.Width).Should().BeApproximately(items.Sum(item => (double)item.Length.ToMillimetres()) * ratio, 1e-6);
    }

    [Fact]
    public void The_count_sheet_has_a_row_for_each_piece()
    {
        var rows = Enumerable.Range(0, 70).Select(i => new CountSheetRow("A1", MarkScheme.FromNumber(i), "plate", "6061-T651", "500 × 300 × 10 mm")).ToList();
        var pages = CountSheet.Scenes(rows, "Stock-take 1");
        pages.SelectMany(page => page.Texts).Select(text => text.Text).Should().Contain(rows.Select(row => row.Mark));
        pages.SelectMany(page => page.Texts.Select(text => page.Area.Contains(text.Bounds))).Should().OnlyContain(inside => inside);
    }
}
