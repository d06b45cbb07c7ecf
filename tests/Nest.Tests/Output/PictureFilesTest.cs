using System.Buffers.Binary;
using Nest.Core.Jobs;
using Nest.Output;
using Nest.Output.Draw;
using Nest.Output.Pictures;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Tests.Output;

/// <summary>Which pictures a folder holds, and what they must not do.</summary>
public sealed class PictureFilesTest
{
    [Fact]
    public void Above_the_limit_no_layout_has_a_picture_file_unless_asked_and_the_screen_says_so()
    {
        var plan = SamplePlans.Brackets();
        var first = plan.Layouts.First(layout => plan.StockOf(layout).CutFor is null);
        var sawn = first with { Pieces = first.Pieces[..1] };
        var many = plan with { Layouts = [.. Enumerable.Range(1, OutputOptions.MostPictures + 1).Select(number => sawn with { Number = number })] };
        new OutputOptions().WithoutPicture(many).Should().Be(OutputOptions.MostPictures + 1);
        new OutputOptions().WithoutPicture(many with { Layouts = many.Layouts[1..] }).Should().Be(0);
        new OutputOptions { Pictures = true }.WithoutPicture(many).Should().Be(0);
        var crowded = plan with { Layouts = [sawn with { Pieces = [.. Enumerable.Repeat(sawn.Pieces[0], OutputOptions.MostPicturedPieces)] }] };
        new OutputOptions().WithoutPicture(crowded).Should().Be(0);
        new OutputOptions().WithoutPicture(crowded with { Layouts = [crowded.Layouts[0], sawn with { Number = 2 }] }).Should().Be(2);

        var without = new OutputOptions { Pictures = false };
        OutputFolder.Contents(plan, without).Select(file => file.Name).Should().NotContain(name => name.StartsWith("pictures/", StringComparison.Ordinal))
            .And.Contain("cut-sheet.pdf").And.Contain("tablet.html").And.Contain("drawings/layout-001.dxf");
        using var text = new StringWriter();
        PlanScreen.Write(plan, text, without, "out");
        text.ToString().Should().Contain("-pictures");
    }

    /// <summary>The chunk that we add to the library's file, by the rule of the recommendation (W3C PNG, third edition, annex D: ISO 3309).</summary>
    [Fact]
    public void The_size_on_paper_has_its_check_sum()
    {
        var bytes = PngFile.Bytes(new Scene("s", 20, 10, [])).AsSpan();
        var at = bytes.IndexOf("pHYs"u8);
        at.Should().Be(8 + 25 + 4, "it stands between the head and the pixels");
        var crc = uint.MaxValue;
        foreach (var one in bytes.Slice(at, 4 + 9))
        {
            crc ^= one;
            for (var bit = 0; bit < 8; bit++)
            {
                crc = (crc & 1) == 1 ? 0xEDB88320 ^ (crc >> 1) : crc >> 1;
            }
        }

        BinaryPrimitives.ReadUInt32BigEndian(bytes[(at + 13)..]).Should().Be(~crc);
    }

    /// <summary>Letters of strips stand on the metal, not on white boxes that hide it; nothing is written over a damaged spot.</summary>
    [Fact]
    public void No_letter_hides_a_blank()
    {
        var letters = 0;
        foreach (var (_, plan) in SamplePlans.All())
        {
            var context = new SheetContext(plan, new OutputOptions());
            foreach (var layout in context.Plan.Layouts.Where(layout => !plan.StockOf(layout).Form.IsBar() && layout.Tree is not null).Take(3))
            {
                var scene = LayoutPicture.Pages(context, layout, Core.Cutting.CutSequencer.Sequence(plan, layout))[0];
                var pieces = scene.Elements.OfType<BoxElement>().Where(box => box.Layer == Layer.Piece).ToArray();
                var tags = scene.Elements.OfType<BoxElement>().Where(box => box is { Layer: Layer.Label, Box.Height: < 4.5 }).ToArray();
                letters += tags.Length;
                tags.Where(tag => tag.Fill is not null && pieces.Any(piece => piece.Box.Overlaps(tag.Box))).Should().BeEmpty();
                var damaged = scene.Elements.OfType<BoxElement>().Where(box => box.Layer == Layer.KeepOut).ToArray();
                scene.Texts.Where(text => text.Layer == Layer.Label && damaged.Any(box => box.Box.Overlaps(text.Bounds))).Should().BeEmpty();
            }
        }

        letters.Should().BeGreaterThan(0);
    }
}
