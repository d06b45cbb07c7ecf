using Nest.Check;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Check;

/// <summary>Sections as the planner and as the checker see them, which share no code, on every form with all small sizes.</summary>
public sealed class SectionsAgreeTest
{
    private static readonly Form[] Forms = Enum.GetValues<Form>();

    [Fact]
    public void A_section_is_sound_for_both_or_for_neither()
    {
        var (sound, unsound) = (0, 0);
        foreach (var stock in Stocks())
        {
            var right = JobSections.Fault(stock) is null && (!stock.Form.IsSection() || StockShape.Of(stock.Form, stock.Length, stock.Width, stock.Thickness) is null);
            ExpectedSections.IsSound(stock).Should().Be(right, "{0} {1} × {2} {3} listed {4}", stock.Form, stock.Width, stock.Thickness, stock.Detail, stock.ListedSection);
            _ = right ? sound++ : unsound++;
        }

        sound.Should().BeGreaterThan(300);
        unsound.Should().BeGreaterThan(300);
    }

    [Fact]
    public void Both_find_the_same_metal_in_a_section()
    {
        foreach (var stock in Stocks().Where(stock => JobSections.Fault(stock) is null))
        {
            ExpectedSections.Metal(stock).Should().Be(stock.Section, "{0} {1} × {2} {3}", stock.Form, stock.Width, stock.Thickness, stock.Detail);
        }
    }

    [Fact]
    public void A_name_of_nothing_is_no_name()
    {
        foreach (var stock in Stocks().Where(stock => stock.Detail is not null))
        {
            ExpectedSections.IsSound(stock with { Detail = stock.Detail! with { Name = "" } }).Should().BeFalse("{0} {1}", stock.Form, stock.Detail);
        }
    }

    /// <summary>By hand, in mm²: tube 40 × 30 × 2: 1200 − 36 × 26; angle 40 × 30 × 4: 40 × 4 + 26 × 4; channel 40 × 20, web 3, flanges 4: 2 × 20 × 4 + 32 × 3; tee 40 × 30, web 3, flange 5: 40 × 5 + 25 × 3.</summary>
    [Theory]
    [InlineData(Form.RectangularTube, 40, 30, 2, 2, 264), InlineData(Form.Angle, 40, 30, 4, 4, 264), InlineData(Form.Channel, 40, 20, 3, 4, 256), InlineData(Form.Tee, 40, 30, 3, 5, 275)]
    [InlineData(Form.FlatBar, 40, 30, 3, 5, 1200)]
    public void Metal_by_hand(Form form, int width, int height, int wall, int flange, int area) =>
        ExpectedSections.Metal(Bar("s", form, width, height) with { Detail = new() { Wall = Mm(wall), Flange = Mm(flange) } }).ToSquareMillimetres().Should().Be(area);

    [Fact]
    public void A_part_asks_for_the_very_section_or_for_another_one()
    {
        foreach (var form in Forms.Where(form => form.IsSection()))
        {
            var detail = form == Form.Profile ? new SectionDetail { Name = "U 7" } : new SectionDetail { Wall = Mm(2), Flange = form is Form.Channel or Form.Tee ? Mm(3) : null };
            var stock = Bar("s", form, 40, form is Form.HexBar or Form.RoundTube ? 40 : 30) with { Detail = detail };
            var part = Flat("p", 100, 40, stock.Thickness.ToMillimetres()) with { Forms = (Forms)(1 << (int)form), Detail = detail };
            foreach (var (asked, of) in new[]
            {
                (part, stock), (part with { Width = Mm(41) }, stock), (part with { Thickness = Mm(31) }, stock), (part, stock with { Detail = null }), (part, stock with { Form = Form.FlatBar }),
                (part with { Detail = detail with { Wall = Mm(3) } }, stock), (part with { Detail = detail with { Flange = Mm(2) } }, stock), (part with { Detail = detail with { Flange = Mm(4) } }, stock),
                (part with { Detail = detail with { Name = "u 7" } }, stock), (part with { Detail = detail with { Name = "U 8" } }, stock), (part, stock with { Detail = detail with { Flange = Mm(2) } }),
            })
            {
                ExpectedSections.Same(of, asked, asked.Detail!).Should().Be(of.IsSectionOf(asked), "{0} {1} of {2} {3}", asked.Detail, asked.Width, of.Detail, of.Form);
            }
        }
    }

    [Fact]
    public void A_part_s_wish_is_sound_for_both_or_for_neither()
    {
        foreach (var forms in (Forms[])[.. Forms.Select(form => (Forms)(1 << (int)form)), Core.Jobs.Forms.Any, Core.Jobs.Forms.Any | Core.Jobs.Forms.HexBar, Core.Jobs.Forms.HexBar | Core.Jobs.Forms.Tee, Core.Jobs.Forms.Plate | Core.Jobs.Forms.Angle, Core.Jobs.Forms.None])
        {
            foreach (var detail in (SectionDetail?[])[null, new(), new() { Wall = Mm(2) }, new() { Name = "U 7" }, new() { Wall = Mm(20) }])
            {
                foreach (var part in (Part[])[Flat("p", 100, 40, 30), Flat("p", 100, 30, 30), Round("p", 30, 100)])
                {
                    var asked = part with { Forms = forms, Detail = detail };
                    ExpectedSections.IsSound(asked).Should().Be(JobSections.Fault(asked) is null, "{0} {1} round {2} {3} × {4}", forms, detail, part.Round, part.Width, part.Thickness);
                }
            }
        }
    }

    private static IEnumerable<Stock> Stocks()
    {
        Length?[] walls = [null, Length.Zero, Mm(1), Mm(2), Mm(3), Mm(4)];
        foreach (var form in Forms)
        {
            foreach (var (width, height) in new[] { (4, 4), (6, 4), (4, 6), (8, 4), (4, 8), (9, 9) })
            {
                var stock = Bar("s", form, width, height);
                yield return stock;
                yield return stock with { ListedSection = stock.Width * stock.Thickness };
                foreach (var wall in walls)
                {
                    foreach (var flange in walls)
                    {
                        var one = stock with { Detail = new() { Wall = wall, Flange = flange } };
                        yield return one;
                        yield return one with { Detail = one.Detail with { Name = "U 7" } };
                        yield return one with { Detail = one.Detail with { Name = "U 7" }, ListedSection = stock.Width * stock.Thickness };
                        yield return one with { ListedSection = stock.Width * stock.Thickness };
                        yield return one with { ListedSection = (stock.Width * stock.Thickness) + Area.FromSquareNanometres(1) };
                        yield return one with { ListedSection = Area.Zero };
                    }
                }
            }
        }
    }
}
