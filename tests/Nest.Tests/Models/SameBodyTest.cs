using Nest.Core.Solids;

namespace Nest.Tests.Models;

/// <summary>Equal parts and mirror images are recognised, however they are turned, in whatever unit.</summary>
public class SameBodyTest
{
    [Theory]
    [InlineData("l_bracket_ap242_mm.step", "l_bracket_turned_ap214_inch.step", Likeness.Same)]
    [InlineData("hand_bracket_left_ap214_mm.step", "hand_bracket_right_ap214_mm.step", Likeness.Mirrored)]
    [InlineData("hand_bracket_left_ap214_mm.step", "hand_bracket_left_ap214_mm.step", Likeness.Same)]
    [InlineData("hand_bracket_flipped_binary_mm.stl", "hand_bracket_right_binary_mm.stl", Likeness.Mirrored)]
    [InlineData("spacer_ap203_mm.step", "micro_bush_ap242_mm.step", Likeness.Different)]
    [InlineData("l_bracket_ap242_mm.step", "hand_bracket_left_ap214_mm.step", Likeness.Different)]
    [InlineData("torus_ring_turned_ap242_mm.step", "torus_ring_turned_ap242_mm.step", Likeness.Same)]
    [InlineData("cap_open_shell_ap203_mm.step", "cap_open_shell_ap203_mm.step", Likeness.Different)]
    public void Bodies_compare(string one, string other, Likeness likeness)
    {
        var (a, b) = (ModelFiles.Read(one).Parts[0].Body, ModelFiles.Read(other).Parts[0].Body);

        SameBody.Compare(a, b).Should().Be(likeness);
        SameBody.Compare(b, a).Should().Be(likeness);
    }

    [Fact]
    public void Pieces_of_an_assembly_are_the_parts_of_their_own_files()
    {
        var parts = ModelFiles.Read("crane_head_assembly_ap242_mm.step").Parts;
        SameBody.Compare(parts.Single(part => part.Name == "Spacer 24").Body, ModelFiles.Read("spacer_ap203_mm.step").Parts[0].Body).Should().Be(Likeness.Same);
        SameBody.Compare(parts.Single(part => part.Name == "Base plate").Body, ModelFiles.Read("pocket_plate_turned_ap214_mm.step").Parts[0].Body).Should().Be(Likeness.Same);
    }
}
