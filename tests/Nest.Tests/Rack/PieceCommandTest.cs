using Nest.Core.Jobs;
using Nest.Core.Racks;
using Nest.RackStress;

namespace Nest.Tests.Rack;

/// <summary>Commands that enter and correct pieces, one by one.</summary>
public sealed class PieceCommandTest : IDisposable
{
    private readonly RackConsole nest = new();

    [Fact]
    public void Damage_adds_up_and_what_is_taken_off_is_said()
    {
        var mark = nest.Add("plate 6061-T6 500x300x10 --keep-out 0,0,20,30");
        nest.Good($"rack adjust {mark} --keep-out 100,100,5,200").Should().Contain("5 × 200 at 100, 100 mm added").And.Contain("2 damaged areas now");
        nest.Good($"rack show {mark}").Should().Contain("20 × 30 mm, 0 from the left and 0 mm from the bottom").And.Contain("5 × 200 mm");
        nest.Refused($"rack adjust {mark} --keep-out 0,0,20,30");
        nest.Error.Should().Contain("nothing to change", "the same area twice is one area");
        nest.Refused($"rack adjust {mark} --keep-out 1,1,2,2 --keep-out none");
        nest.Good($"rack adjust {mark} --keep-out none --keep-out 7,8,9,10").Should()
            .Contain("damage 20 × 30 at 0, 0 mm and 5 × 200 at 100, 100 mm taken off").And.Contain("9 × 10 at 7, 8 mm added").And.Contain("1 damaged area now");
        nest.Good($"rack adjust {mark} --keep-out none").Should().Contain("taken off").And.Contain("no damage now");
    }

    [Theory]
    [InlineData("500 x 300 x 12.7 mm", 500, 300, 12.7)]
    [InlineData("50 x 30 x 1.27 cm", 500, 300, 12.7)]
    [InlineData("20 x 12 x 1/2\"", 508, 304.8, 12.7)]
    [InlineData("20x12x0.5", 508, 304.8, 12.7)]
    [InlineData("20\" x 12 x 12.7 mm", 508, 304.8, 12.7)] // the first has a unit of its own, so the second keeps the shop's
    [InlineData("500 mm x 12 in x 1/2", 500, 304.8, 12.7)]
    public void A_unit_behind_the_last_number_is_that_of_all(string size, double length, double width, double thickness)
    {
        nest.Good("rack add plate 6061-T6", size, "--unit", "in");
        using var store = nest.Open();
        var piece = store.List(new()).Single();
        (piece.Length, piece.Width, piece.Thickness).Should().Be((SamplePlans.Mm((decimal)length), SamplePlans.Mm((decimal)width), SamplePlans.Mm((decimal)thickness)));
    }

    [Fact]
    public void What_import_refuses_add_and_adjust_refuse_too()
    {
        nest.Refused("rack add plate 6061-T6 200x300x1000");
        nest.Error.Should().Contain("the plate is thicker than it is wide or long");
        var mark = nest.Add("plate 6061-T6 300x200x10");
        nest.Refused($"rack adjust {mark} --thickness 250");
        nest.Error.Should().Contain("the plate is thicker");
        nest.Refused("rack add round-bar 6061-T6 31000x20");
        File.WriteAllText(nest.In("thick.csv"), "form,material,length,width,thickness\nplate,6061-T6,200,300,1000\n");
        nest.Refused($"rack import {nest.In("thick.csv")}");
        nest.Error.Should().Contain("thick.csv:2:5").And.Contain("the plate is thicker than it is wide or long");
        nest.Good($"rack export {nest.In("all.csv")}");
        nest.Good($"rack import {nest.In("all.csv")} --new-marks");
    }

    [Fact]
    public void A_change_of_size_says_what_went_with_it_and_what_stayed()
    {
        var mark = nest.Add("plate 6061-T6 300x200x10 --min-thickness 9.8");
        nest.Good($"rack adjust {mark} --thickness 12");
        nest.Error.Should().Contain("note: the smallest thickness that was measured, 9.8 mm, went with the old thickness")
            .And.Contain("note: the value stays 20.00; --value changes it");
        nest.Good($"rack adjust {mark} --thickness 11 --value 18");
        nest.Error.Should().NotContain("note:");
        nest.Good($"rack adjust {mark} --heat H2");
        nest.Error.Should().NotContain("note:");
    }

    [Fact]
    public void The_answer_is_in_the_shops_unit_and_in_words()
    {
        var mark = nest.Add("plate 6061-T6 20x12x0.5 --unit in");
        nest.Good($"rack adjust {mark} --length 19 --unit in").Should().Contain("size 20 in × 12 in × 0.5 in → 19 in × 12 in × 0.5 in");
        nest.Good($"rack adjust {mark} --clean left --good-faces --rolling unknown --condition fair").Should()
            .Contain("clean edges none → left").And.Contain("good faces no → yes").And.Contain("rolling direction along length → unknown").And.Contain("condition good → fair");
        nest.Good($"rack adjust {mark} --no-good-faces").Should().Contain("good faces yes → no");
        nest.Refused($"rack adjust {mark} --no-good-faces --good-faces");
        nest.Good($"rack show {mark} --unit in").Should().MatchRegex("length +19 in").And.MatchRegex("mass +11.1 lb");
    }

    [Fact]
    public void A_wrong_material_is_corrected_and_the_metal_booked_anew()
    {
        var mark = nest.Add("plate 6061-T6 300x200x10");
        nest.Refused($"rack adjust {mark} --material unobtainium");
        nest.Good($"rack adjust {mark} --material 1018").Should().Contain("material 6061-T6 → 1018");
        using (var store = nest.Open())
        {
            // 0.3 m x 0.2 m x 0.01 m x 7 870 kg/m3 (density as in stock/materials.csv) = 4.722 kg.
            store.Show(mark).Mass.Kilograms.Should().Be(4.722m);
            var books = store.Balance();
            books.Difference.Should().Be(0);
            books.Corrected.Should().Be(4_722_000_000L - 1_620_000_000L, "it was 1.62 kg of aluminium");
            store.Check().Should().BeEmpty();
        }

        // Taken back after another piece of the new material came: the material stays known.
        var change = System.Text.RegularExpressions.Regex.Match(nest.Good("rack history"), @"(\d+) .*adjusted").Groups[1].Value;
        nest.Add("plate 1018 100x100x10");
        nest.Good($"rack undo {change}");
        nest.Good($"rack show {mark}").Should().MatchRegex("material +6061-T6").And.MatchRegex("mass +1.62 kg");
        nest.Good("rack check");
    }

    [Fact]
    public void A_piece_that_is_painted_already_keeps_its_mark()
    {
        var mark = Nest.Rack.Marks.MarkScheme.FromNumber(777);
        nest.Good($"rack add plate 6061-T6 300x200x10 --mark {mark.ToLowerInvariant()}").Trim().Should().Be(mark);
        nest.Refused($"rack add plate 6061-T6 300x200x10 --mark {mark}");
        nest.Refused($"rack add plate 6061-T6 300x200x10 --mark {mark} -n 2");
    }

    [Fact]
    public void Tiny_plates_are_asked_about()
    {
        nest.Good("rack add plate 6061-T6 24x12x0.5");
        nest.Error.Should().Contain("24 × 12 × 0.5 mm is very small for a plate").And.Contain("--unit in");
        foreach (var size in new[] { "24x12x0.5mm", "24x12x0.5in", "240x12x0.5" })
        {
            nest.Good($"rack add plate 6061-T6 {size}");
            nest.Error.Should().NotContain("very small");
        }
    }

    [Fact]
    public void Nothing_is_said_of_pieces_that_were_not_entered()
    {
        nest.Refused("rack add plate 6061-T6 200x300x1000");
        nest.Error.Should().NotContain("entered at");
    }

    [Fact]
    public void What_makes_no_sense_is_refused()
    {
        var mark = nest.Add("plate 6061-T6 300x200x10 --place A");
        nest.Good($"rack move {mark} {mark} --to B").Should().Contain("moved 1 piece to B");
        nest.Good("rack history").Should().Contain($"moved {mark} to B").And.NotContain($"{mark}, {mark}");
        nest.Refused($"rack move {mark} --to", "");
        nest.Refused($"rack move {mark}");
        nest.Good($"rack move {mark} --no-place").Should().Contain("to no place");
        nest.Refused("rack add flat-bar 6061-T6 1000x50x10 --clean top");
        nest.Good("rack add flat-bar 6061-T6 1000x50x10 --clean left");
        nest.Refused($"rack adjust {mark} --length 300x200");
        nest.Good($"rack scrap {mark} {mark}").Should().Contain("scrapped 1 piece");
        nest.Good("rack check");
    }

    /// <summary>The saw leaves what it leaves; such a leftover can still be corrected in everything but its size.</summary>
    [Fact]
    public void A_leftover_narrower_than_thick_is_no_mistake()
    {
        var left = RackFixture.Plate(400, 40, 50);
        Checked(left, cut: true).Should().NotThrow();
        Checked(left with { Note = "x" }, left).Should().NotThrow();
        Checked(left).Should().Throw<Nest.Rack.RackException>();
        Checked(left with { Width = SamplePlans.Mm(41) }, left).Should().Throw<Nest.Rack.RackException>();

        static Action Checked(RackPiece piece, RackPiece? before = null, bool cut = false) => () => Nest.Rack.Pieces.PieceRules.Check(piece, before, cut);
    }

    [Fact]
    public void One_piece_agrees()
    {
        var mark = nest.Add("plate 6061-T6 300x200x10 --place A");
        nest.Good("rack count start");
        nest.Good($"rack count found 1 {mark}");
        nest.Good("rack count show 1");
        nest.Error.Should().Contain("1 piece agrees, 0 differences");
        nest.Refused("rack rules --free-days 1.5");
    }

    [Fact]
    public void A_reserved_piece_keeps_its_material()
    {
        using var rack = new RackFixture();
        var piece = rack.Store.Add(RackFixture.Plate(500, 300));
        var part = new Part { Id = "p", MaterialId = piece.MaterialId, Length = SamplePlans.Mm(100), Width = SamplePlans.Mm(100), Thickness = piece.Thickness, Quantity = 1 };
        var job = SamplePlans.Job("j", [part], [piece.ToStock(piece.Value)]);
        rack.Store.Reserve(SamplePlans.Plan(job, SamplePlans.Grid(job, job.Stocks[0], 1, 1, part, 1, 1)));
        var change = () => rack.Store.Adjust(piece.Mark, new() { MaterialId = SamplePlans.Steel.Id });
        change.Should().Throw<Nest.Rack.RackException>().WithMessage("*is reserved*");
        rack.Store.Show(piece.Mark).State.Should().Be(PieceState.Reserved);
    }

    public void Dispose() => nest.Dispose();
}
