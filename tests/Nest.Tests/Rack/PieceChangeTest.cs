using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack;
using Nest.Rack.Pieces;
using Nest.RackStress;

namespace Nest.Tests.Rack;

/// <summary>A correction changes what it names and nothing else, on the piece and, of its papers, on what was cut from it.</summary>
public sealed class PieceChangeTest : IDisposable
{
    private static readonly Rect _dent = new(SamplePlans.Mm(10), SamplePlans.Mm(20), SamplePlans.Mm(30), SamplePlans.Mm(40));
    private static readonly Rect _hole = new(SamplePlans.Mm(100), SamplePlans.Mm(20), SamplePlans.Mm(5), SamplePlans.Mm(5));

    private static readonly RackPiece _plate = RackFixture.Plate(500, 300) with
    {
        MinLength = SamplePlans.Mm(499),
        MinWidth = SamplePlans.Mm(299),
        MinThickness = SamplePlans.Mm(9),
        KeepOuts = [_dent],
        Certificate = "C1",
        Supplier = "Kestrel",
        Origin = "job 1",
        Note = "old",
    };

    private readonly RackFixture rack = new();

    private RackStore Store => rack.Store;

    public void Dispose() => rack.Dispose();

    public static TheoryData<string, PieceChange, Func<RackPiece, RackPiece>> Changes() => new()
    {
        { "nothing", new(), piece => piece },
        { "material", new() { MaterialId = "1018" }, piece => piece with { MaterialId = "1018" } },
        { "length", new() { Length = SamplePlans.Mm(450) }, piece => piece with { Length = SamplePlans.Mm(450), MinLength = null } },
        { "width", new() { Width = SamplePlans.Mm(250) }, piece => piece with { Width = SamplePlans.Mm(250), MinWidth = null } },
        { "thickness", new() { Thickness = SamplePlans.Mm(8) }, piece => piece with { Thickness = SamplePlans.Mm(8), MinThickness = null } },
        { "length and smallest", new() { Length = SamplePlans.Mm(450), MinLength = SamplePlans.Mm(449) }, piece => piece with { Length = SamplePlans.Mm(450), MinLength = SamplePlans.Mm(449) } },
        { "width and smallest", new() { Width = SamplePlans.Mm(250), MinWidth = SamplePlans.Mm(249) }, piece => piece with { Width = SamplePlans.Mm(250), MinWidth = SamplePlans.Mm(249) } },
        { "thickness and smallest", new() { Thickness = SamplePlans.Mm(8), MinThickness = SamplePlans.Mm(7) }, piece => piece with { Thickness = SamplePlans.Mm(8), MinThickness = SamplePlans.Mm(7) } },
        { "smallest length", new() { MinLength = SamplePlans.Mm(498) }, piece => piece with { MinLength = SamplePlans.Mm(498) } },
        { "smallest width", new() { MinWidth = SamplePlans.Mm(298) }, piece => piece with { MinWidth = SamplePlans.Mm(298) } },
        { "smallest thickness", new() { MinThickness = SamplePlans.Mm(8) }, piece => piece with { MinThickness = SamplePlans.Mm(8) } },
        { "rolling", new() { Rolling = RollingDirection.Unknown }, piece => piece with { Rolling = RollingDirection.Unknown } },
        { "edges", new() { CleanEdges = new(true, false, false, true) }, piece => piece with { CleanEdges = new(true, false, false, true) } },
        { "other damage", new() { KeepOuts = [_hole] }, piece => piece with { KeepOuts = [_hole] } },
        { "more damage", new() { MoreKeepOuts = [_hole, _dent] }, piece => piece with { KeepOuts = [_dent, _hole] } },
        { "no damage", new() { KeepOuts = [] }, piece => piece with { KeepOuts = [] } },
        { "good faces", new() { GoodFaces = true }, piece => piece with { GoodFaces = true } },
        { "heat", new() { Heat = "H2" }, piece => piece with { Heat = "H2" } },
        { "certificate", new() { Certificate = "C2" }, piece => piece with { Certificate = "C2" } },
        { "supplier", new() { Supplier = "Heron" }, piece => piece with { Supplier = "Heron" } },
        { "origin", new() { Origin = "job 2" }, piece => piece with { Origin = "job 2" } },
        { "value", new() { Value = Money.FromAmount(3) }, piece => piece with { Value = Money.FromAmount(3) } },
        { "condition", new() { Condition = PieceCondition.Poor }, piece => piece with { Condition = PieceCondition.Poor } },
        { "note", new() { Note = "new" }, piece => piece with { Note = "new" } },
    };

    [Theory]
    [MemberData(nameof(Changes))]
    public void A_change_changes_what_it_names(string what, PieceChange change, Func<RackPiece, RackPiece> expected)
    {
        change.On(_plate).Should().BeEquivalentTo(expected(_plate), options => options.ComparingByMembers<RackPiece>(), what);
        if (what is "nothing")
        {
            return;
        }

        // And in the rack: read back, told in words, and undone. The mass follows size and material.
        var mark = Store.Add(_plate).Mark;
        var adjusted = Store.Adjust(mark, change);
        adjusted.After.Should().BeEquivalentTo(expected(adjusted.Before) with { Micrograms = adjusted.After.Micrograms }, options => options.ComparingByMembers<RackPiece>(), what);
        Store.Show(mark).Should().BeEquivalentTo(adjusted.After, options => options.ComparingByMembers<RackPiece>(), what);
        adjusted.After.Micrograms.Should().Be(what switch
        {
            "material" => 11_805_000_000, // 500 × 300 × 10 mm at 7870 kg/m³
            "length" or "length and smallest" => 3_645_000_000,
            "width" or "width and smallest" => 3_375_000_000,
            "thickness" or "thickness and smallest" => 3_240_000_000,
            _ => 4_050_000_000,
        });
        PieceWords.Changed(adjusted.Before, adjusted.After, LengthFormat.Metric).Should().NotBeEmpty(what);
        Store.Check().Should().BeEmpty();
        Store.Undo();
        Store.Show(mark).Should().BeEquivalentTo(adjusted.Before, options => options.ComparingByMembers<RackPiece>(), what);
        Store.Check().Should().BeEmpty();
    }

    [Fact]
    public void What_changed_is_told_in_words_and_what_did_not_is_not()
    {
        var change = new PieceChange { Length = SamplePlans.Mm(450), Heat = "H2", KeepOuts = [_hole], GoodFaces = true };
        PieceWords.Changed(_plate, change.On(_plate), LengthFormat.Metric).Should().Equal(
            "size 500 mm × 300 mm × 10 mm → 450 mm × 300 mm × 10 mm", "smallest size → 450 mm × 299 mm × 9 mm", "good faces no → yes", "heat 'H1' → 'H2'",
            "damage 30 × 40 at 10, 20 mm taken off, damage 5 × 5 at 100, 20 mm added, 1 damaged area now");
        PieceWords.Changed(_plate, _plate, LengthFormat.Metric).Should().BeEmpty();
        PieceWords.Changed(_plate, _plate with { MaterialId = _plate.MaterialId.ToLowerInvariant() }, LengthFormat.Metric).Should().BeEmpty("names of materials have no case");
        PieceWords.Changed(_plate, _plate with { KeepOuts = [] }, LengthFormat.Metric).Should().Equal("damage 30 × 40 at 10, 20 mm taken off, no damage now");
        PieceWords.Changed(_plate, _plate with { KeepOuts = [_dent, _hole] }, LengthFormat.Metric).Should().Equal("damage 5 × 5 at 100, 20 mm added, 2 damaged areas now");
        PieceWords.Changed(_plate, _plate with { Width = SamplePlans.Mm(301) }, LengthFormat.Metric).Should().ContainSingle().Which.Should().StartWith("size ");
        PieceWords.Changed(_plate, _plate with { MinThickness = SamplePlans.Mm(8) }, LengthFormat.Metric).Should().ContainSingle().Which.Should().StartWith("smallest size ");
    }

    [Fact]
    public void What_goes_with_a_size_and_what_stays_is_said()
    {
        var shorter = new PieceChange { Length = SamplePlans.Mm(450) }.On(_plate) with { Micrograms = 1 };
        PieceWords.Notes(_plate, shorter, valueGiven: false, LengthFormat.Metric).Should().HaveCount(2).And.Contain(note => note.Contains("smallest length", StringComparison.Ordinal) && note.Contains("499 mm", StringComparison.Ordinal))
            .And.Contain(note => note.StartsWith("the value stays 20", StringComparison.Ordinal));
        PieceWords.Notes(_plate, shorter, valueGiven: true, LengthFormat.Metric).Should().ContainSingle();
        PieceWords.Notes(_plate, shorter with { Value = Money.Zero }, valueGiven: false, LengthFormat.Metric).Should().ContainSingle("nothing of nothing changes");
        PieceWords.Notes(_plate, _plate with { Note = "x" }, valueGiven: false, LengthFormat.Metric).Should().BeEmpty();
        PieceWords.Notes(_plate, _plate with { MinLength = SamplePlans.Mm(498) }, valueGiven: false, LengthFormat.Metric).Should().BeEmpty("it was measured again");
        PieceWords.Notes(_plate with { MinWidth = null }, _plate, valueGiven: false, LengthFormat.Metric).Should().BeEmpty("there was none before");
    }

    [Fact]
    public void Heat_and_certificate_are_corrected_on_what_was_cut_from_a_piece_too()
    {
        var part = SamplePlans.Part("pin", SamplePlans.Steel.Id, 300, 40, 12, 1);
        var bar = Store.Add(new RackPiece { Form = Form.FlatBar, MaterialId = SamplePlans.Steel.Id, Length = SamplePlans.Mm(3000), Width = SamplePlans.Mm(40), Thickness = SamplePlans.Mm(12), Heat = "H1", Certificate = "C1" });
        var child = Cut(bar);
        var grandchild = Cut(child);
        (child.ParentMark, grandchild.ParentMark, grandchild.Heat, grandchild.Certificate).Should().Be((bar.Mark, child.Mark, "H1", "C1"));

        // The grandchild's certificate was corrected by itself: it stays.
        Store.Adjust(grandchild.Mark, new() { Certificate = "C9" });
        var adjusted = Store.Adjust(child.Mark, new() { Heat = "H2" });
        adjusted.SoToo.Should().Contain(grandchild.Mark).And.NotContain(bar.Mark);
        adjusted.Text(LengthFormat.Metric).Should().Contain(grandchild.Mark);
        (Store.Show(grandchild.Mark).Heat, Store.Show(grandchild.Mark).Certificate, Store.Show(bar.Mark).Heat).Should().Be(("H2", "C9", "H1"));
        Store.Adjust(child.Mark, new() { Certificate = "C2" }).SoToo.Should().BeEmpty("the grandchild has its own");
        Store.Adjust(child.Mark, new() { Certificate = "C9" }).SoToo.Should().BeEmpty("it is the same already");
        Store.Adjust(child.Mark, new() { Certificate = "C3" }).SoToo.Should().Contain(grandchild.Mark);
        (Store.Show(grandchild.Mark).Heat, Store.Show(grandchild.Mark).Certificate).Should().Be(("H2", "C3"));

        // A note is of the piece alone, and papers may be corrected of a piece that is gone.
        Store.Adjust(child.Mark, new() { Note = "clean" }).Text(LengthFormat.Metric).Should().Be($"adjusted {child.Mark}: note '' → 'clean'");
        Store.Show(grandchild.Mark).Note.Should().BeEmpty();
        Store.Check().Should().BeEmpty();

        RackPiece Cut(RackPiece from)
        {
            var stock = from.ToStock(Money.FromAmount(5));
            var job = SamplePlans.Job($"pin of {from.Mark}", [part], [stock]);
            return Store.ConfirmCut(Store.Reserve(SamplePlans.Plan(job, SamplePlans.Grid(job, stock, 1, 1, part, 1, 1))), 1).Leftovers.Single();
        }
    }

    [Fact]
    public void Of_a_piece_that_left_the_rack_only_its_papers_are_corrected()
    {
        var mark = Store.Add(_plate).Mark;
        Store.Scrap([mark], "bent");
        Store.Adjust(mark, new() { Heat = "H2", Certificate = "C2", Supplier = "Heron", Origin = "job 2", Note = "new" }).After.Heat.Should().Be("H2");
        foreach (var change in (PieceChange[])[new() { Length = SamplePlans.Mm(450) }, new() { MoreKeepOuts = [_hole] }, new() { Note = "x", GoodFaces = true }, new() { MoreKeepOuts = [_hole], Heat = "H3" }])
        {
            var adjust = () => Store.Adjust(mark, change);
            adjust.Should().Throw<RackException>();
        }
    }
}
