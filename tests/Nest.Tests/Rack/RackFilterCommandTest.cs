namespace Nest.Tests.Rack;

/// <summary>What the lists of the rack show, and which filters they refuse.</summary>
public sealed class RackFilterCommandTest : IDisposable
{
    private readonly RackConsole nest = new();

    [Fact]
    public void A_plate_that_is_damaged_where_it_matters_is_not_offered()
    {
        var ruined = nest.Add("plate 6061-T6 500x300x10 --keep-out 0,0,500,300");
        var sound = nest.Add("plate 6061-T6 500x300x10");
        nest.Good("rack find 400x200x10").Should().Contain(sound).And.NotContain(ruined);
        nest.Good("rack list --holds 400x200x10").Should().Contain(sound).And.NotContain(ruined);
        nest.Good("rack list").Should().Contain(ruined);
    }

    [Fact]
    public void Damage_condition_and_both_values_are_told_apart()
    {
        var mark = nest.Add("plate 6061-T6 500x300x10 --condition poor --keep-out 0,0,5,5 --keep-out 10,0,5,5");
        foreach (var command in new[] { "rack list", "rack find 100x100x10" })
        {
            // 20.00 carried, poor counts 0.6 of it (the rules' default).
            nest.Good(command).Should().Contain("poor, 2 damaged areas").And.Contain("worth").And.Contain("12.00").And.NotContain("value");
        }

        nest.Good($"rack show {mark}").Should().MatchRegex("value carried +20.00").And.MatchRegex("worth today +12.00");
        nest.Good("rack balance --unit in").Should().MatchRegex("found on the rack +8.929 lb", "4.05 kg ÷ 0.45359237 kg/lb, by definition of the pound");
    }

    [Theory]
    [InlineData("6082")]
    [InlineData("6082-t6")]
    [InlineData("EN AW-6082")]
    [InlineData("60")]
    [InlineData("Aluminium")]
    [InlineData("aluminum")]
    public void A_material_is_found_by_its_other_names_its_beginning_and_its_family(string name)
    {
        var mark = nest.Add("plate 6082-T6 500x300x10");
        var steel = nest.Add("plate 1018 500x300x10");
        nest.Good("rack list -m", name).Should().Contain(mark).And.NotContain(steel);
    }

    [Fact]
    public void Names_that_the_rack_does_not_know_are_refused()
    {
        nest.Add("plate 6082-T6 500x300x10 --heat H1");
        nest.Refused("rack list -m 7075");
        nest.Error.Should().Contain("the rack has no material '7075'").And.Contain("there are 6082-T6");
        nest.Refused("rack find 10x10x10 -m nope");
        nest.Refused("rack list --heat nope");
        nest.Error.Should().Contain("knows no heat 'nope'");
        nest.Good("rack list --heat h1");
        nest.Refused("rack list --plan P9");
        nest.Refused("rack trace --heat nope");
        nest.Error.Should().Contain("knows no heat 'nope'");
        nest.Refused("rack trace --batch NIX");
        nest.Error.Should().Contain("knows no batch 'NIX'");
        nest.Refused("rack trace --heat H1 --part clamp");
        nest.Refused("rack list --most -1");
        nest.Refused("rack list --most 0");
        nest.Refused("rack list --older -3");
        nest.Refused("rack list --newer -3");
        nest.Good("rack list --older 0 --most 1");
    }

    [Fact]
    public void Labels_of_pieces_that_are_gone_are_printed_only_when_named()
    {
        var (gone, here) = (nest.Add("plate 6061-T6 500x300x10"), nest.Add("plate 6061-T6 1500x1300x12.5 --heat HEAT-2025-009981-A-and-more-than-any-small-label-holds"));
        nest.Good($"rack scrap {gone}");
        nest.Good($"rack labels {nest.In("a.pdf")}").Should().Contain("1 label ");
        nest.Refused($"rack labels {nest.In("b.pdf")} --all");
        nest.Error.Should().Contain($"{gone} is scrapped");
        File.Exists(nest.In("b.pdf")).Should().BeFalse();
        nest.Good($"rack labels {nest.In("b.pdf")} {gone} {here} {here}").Should().Contain("2 labels");
        nest.Error.Should().Contain($"note: {gone} is scrapped");
        nest.Good($"rack labels {nest.In("c.pdf")} --one 34x14");
        nest.Error.Should().Contain($"too small for the heat number of {here}");
    }

    public void Dispose() => nest.Dispose();
}
