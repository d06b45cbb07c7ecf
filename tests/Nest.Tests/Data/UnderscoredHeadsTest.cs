using Nest.Core.Quantities;

namespace Nest.Tests.Data;

/// <summary>Heads as programs write them: words joined by an underscore, the unit last.</summary>
public sealed class UnderscoredHeadsTest
{
    [Fact]
    public void The_unit_behind_an_underscore_is_read_as_one_behind_a_space()
    {
        using var folder = new JobFolder();
        var read = folder.Parts("part_no,material,length_mm,width_in,thickness_cm,qty_each,end_clean_up_mm\nlug,6061-T6,100,2,0.8,3,1.5\n");
        JobFolder.Short(read.Findings).Should().BeEmpty();
        var part = read.Value!.Job.Parts.Single();
        (part.Length, part.Width, part.Thickness, part.Quantity).Should().Be((Length.FromMillimetres(100), Length.FromInches(2), Length.FromMillimetres(8), 3));
        part.Allowances!.EndCleanUp.Should().Be(Length.FromMillimetres(1.5m));
    }

    [Fact]
    public void A_size_in_one_text_too()
    {
        using var folder = new JobFolder();
        var part = folder.Parts("part_number,material,finished_size_in,qty_per_set\nlug,6061-T6,1/4 x 2 x 6,3\n").Value!.Job.Parts.Single();
        (part.Length, part.Width, part.Thickness).Should().Be((Length.FromInches(6), Length.FromInches(2), Length.FromInches(0.25m)));
    }
}
